import { accessSync, constants } from "node:fs";

/** The headless shell first: the same engine without windows and tabs, which takes less than two thirds of the work. */
const USUAL_PLACES = [
  "/usr/bin/chromium-headless-shell",
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/snap/bin/chromium",
  "/usr/bin/google-chrome-stable",
  "/usr/bin/google-chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

/** Where Chromium is: CHROMIUM_PATH and nothing else if that is set, else the usual places; undefined if nowhere. */
export function findChromium(): string | undefined {
  const named = process.env.CHROMIUM_PATH;
  return (named ? [named] : USUAL_PLACES).find(isExecutable);
}

/** What a test that needs Chromium says when there is none. */
export const NO_CHROMIUM =
  "as there is no Chromium here. Install it (Debian: apt-get install chromium) or name it with CHROMIUM_PATH.";

function isExecutable(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
