import type { NewsChannel } from "../../server/http/news.ts";

interface PageNewsProps {
  readonly channel: NewsChannel;
  /** Of the page itself. */
  readonly address: string;
  /** What of the page is renewed, by its id; left out: all of it. */
  readonly part?: string;
}

/**
 * Asks for the page anew whenever something has changed, on whichever device; and each minute, as time changes it too.
 * News are morphed in: what is being typed stays, and so does all that is marked with `hx-morph-skip`.
 */
export function PageNews({ channel, address, part }: PageNewsProps) {
  const renewed = part
    ? { "hx-target": part, "hx-select": part, "hx-swap": "outerMorph" }
    : { "hx-target": "#main", "hx-swap": "innerMorph" };
  return (
    <>
      {/* One stream a page, which stays while the page's content is renewed. */}
      <div id={`${channel}-news`} hx-sse:connect={`/${channel}/news`} hx-swap="none" />
      <div
        id={`${channel}-anew`}
        hx-get={address}
        hx-trigger={`${channel} from:#${channel}-news, every 60s`}
        {...renewed}
      />
    </>
  );
}
