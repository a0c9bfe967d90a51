import type { ComponentChildren } from "preact";
import { Form } from "../components/Form.tsx";
import { NewsStream } from "../components/PageNews.tsx";
import { places, usePageContext } from "./pageContext.ts";

/** The frame of every page: where one is, who one is, and the page itself in `main`. */
export function Page({ title, children }: { readonly title: string; readonly children: ComponentChildren }) {
  const { workshop, assetVersion, bare, place, news } = usePageContext();
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta
          name="htmx-config"
          content='{"includeIndicatorCSS":false,"history":false,"defaultFocusScroll":true}'
        />
        <title>{`${title} · ${workshop?.name ?? "Halfmold"}`}</title>
        <link rel="icon" href={`/assets/${assetVersion}/static/halfmold.svg`} type="image/svg+xml" />
        <link rel="stylesheet" href={`/assets/${assetVersion}/styles/halfmold.css`} />
        <script src={`/assets/${assetVersion}/htmx/htmx.min.js`} defer />
        <script src={`/assets/${assetVersion}/htmx/ext/hx-sse.min.js`} defer />
        {place === "Bench" && <script src={`/assets/${assetVersion}/static/bench.js`} type="module" />}
        {place === "Packing" && <script src={`/assets/${assetVersion}/static/packing.js`} type="module" />}
      </head>
      <body>
        <a class="skip" href="#main">
          To the page
        </a>
        {bare ? <BareMasthead /> : <Masthead />}
        <main id="main">{children}</main>
        {news && <NewsStream channel={news} />}
      </body>
    </html>
  );
}

/** The workshop's name, which is all that a shop sees of it. */
function BareMasthead() {
  const { workshop } = usePageContext();
  return (
    <header class="masthead">
      <div class="masthead-line">
        <span class="shop-name">{workshop?.name ?? "Halfmold"}</span>
      </div>
    </header>
  );
}

function Masthead() {
  const { person, workshop } = usePageContext();
  return (
    <header class="masthead">
      <div class="masthead-line">
        <a class="shop-name" href="/">
          {workshop?.name ?? "Halfmold"}
        </a>
        {person && (
          <Form action="/sign-out" class="who">
            <span>{person.name}</span>
            <button type="submit" class="quiet">
              Sign out
            </button>
          </Form>
        )}
      </div>
      {person && workshop && <Navigation />}
    </header>
  );
}

function Navigation() {
  const { person, place } = usePageContext();
  return (
    <nav aria-label="Places">
      <ul class="push-row">
        {places
          .filter((known) => known.for === "everyone" || person?.role === "owner")
          .map((known) => (
            <li key={known.name}>
              <a href={known.href} aria-current={known.name === place ? "page" : undefined}>
                {known.name}
              </a>
            </li>
          ))}
      </ul>
    </nav>
  );
}
