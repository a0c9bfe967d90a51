import type { FileProgress } from "../../server/orders/filesInWork.ts";
import { wholeWords } from "../format/quantities.ts";

/** A page asks no oftener than this for how far its file is; by then its own answer has come, or never will. */
const MOST_ASKED = 600;

interface WatchedFile {
  /** The number by which the file is known while it is worked on. */
  readonly watch: string;
  /** How often the page has asked. */
  readonly asked: number;
}

/**
 * In a form that brings a file: as soon as it is sent, the page asks how far the file is, until the answer takes its
 * place. Without JavaScript the browser says by itself that it waits.
 */
export function FileWatch() {
  const watch = crypto.randomUUID();
  return (
    <>
      <input type="hidden" name="watch" value={watch} />
      {/* Listened for on the body: heard on the form itself, it would no longer be sent by the browser. */}
      <div hx-get={askAt({ watch, asked: 0 })} hx-trigger="submit from:body" hx-swap="outerHTML" />
    </>
  );
}

/** How far a file is; it asks again by itself. Null: it is under way to us, or nearly done. */
export function FileProgressNow({
  watch,
  asked,
  progress,
}: WatchedFile & { readonly progress: FileProgress | null }) {
  const again =
    asked < MOST_ASKED
      ? {
          "hx-get": askAt({ watch, asked: asked + 1 }),
          "hx-trigger": "load delay:300ms",
          "hx-swap": "outerHTML",
        }
      : {};
  return (
    <p class="search-progress" {...again}>
      <label for="file-progress">
        {progress === null ? "Working on the file …" : progressWords(progress)}
      </label>
      <progress id="file-progress" max={progress?.of} value={progress?.done} />
    </p>
  );
}

/** "Checking: 1 250 of 5 000 lines." */
export function progressWords({ doing, done, of }: FileProgress): string {
  return `${doing === "checking" ? "Checking" : "Taking"}: ${wholeWords(done)} of ${wholeWords(of)} lines.`;
}

function askAt({ watch, asked }: WatchedFile): string {
  return `/orders/import/progress?watch=${watch}&asked=${asked}`;
}
