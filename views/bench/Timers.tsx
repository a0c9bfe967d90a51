import { minutesWords } from "../format/quantities.ts";

/*
 * Times that run on in the page: `views/static/bench.js` counts them on from the server's own clock. Without it they say
 * how it stood when the page was made.
 */

/** "in 12 min", or "12 min ago" once it has passed. */
export function TimeLeft({ until, now }: { readonly until: Date; readonly now: Date }) {
  const minutes = (until.getTime() - now.getTime()) / 60_000;
  return (
    <span class="timer" data-until={until.toISOString()}>
      {minutes >= 0 ? `in ${minutesWords(Math.ceil(minutes))}` : `${minutesWords(Math.floor(-minutes))} ago`}
    </span>
  );
}

/** "for 12 min": how long something has been going on. */
export function TimeSince({ since, now }: { readonly since: Date; readonly now: Date }) {
  const minutes = Math.max(0, (now.getTime() - since.getTime()) / 60_000);
  return (
    <span class="timer" data-since={since.toISOString()}>
      {`for ${minutesWords(Math.floor(minutes))}`}
    </span>
  );
}

/** The server's clock when the page was made, by which its timers count. */
export function PageClock({ now }: { readonly now: Date }) {
  return <span hidden id="page-clock" data-now={now.toISOString()} />;
}
