import type { NewsChannel } from "../layout/pageContext.ts";

interface PageNewsProps {
  readonly channel: NewsChannel;
  /** Of the page itself. */
  readonly address: string;
  /** What of the page is renewed, by its id; left out: all of it. */
  readonly part?: string;
}

/**
 * Asks for the page anew whenever something has changed, on whichever device; and each minute, as time changes it too.
 * News are morphed in: what is being typed stays, and so does all that is marked with `hx-morph-skip`. The page has to be
 * rendered with the channel as its `news`.
 */
export function PageNews({ channel, address, part }: PageNewsProps) {
  const renewed = part
    ? { "hx-target": part, "hx-select": part, "hx-swap": "outerMorph" }
    : { "hx-target": "#main", "hx-swap": "innerMorph" };
  return (
    <div
      id={`${channel}-anew`}
      hx-get={address}
      hx-trigger={`${channel} from:#${channel}-news, every 60s`}
      {...renewed}
    />
  );
}

/**
 * The one stream of a page. It stands outside the page's main part: where an answer and the news came in together, a
 * stream inside it was opened twice, one of them for good, and six keep a browser from asking for anything else.
 */
export function NewsStream({ channel }: { readonly channel: NewsChannel }) {
  return <div id={`${channel}-news`} hx-sse:connect={`/${channel}/news`} hx-swap="none" />;
}
