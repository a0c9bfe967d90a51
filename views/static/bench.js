/*
 * Timers of the pages that show the bench. They count on from the server's clock, which the page carries, so that every
 * device shows the same and a reload changes nothing. Without this file the times stand as the page was made.
 */

/** How far this device's clock is behind the server's, by the page-clock last seen. */
let seen = "";
let behindMs = 0;

function serverNow() {
  const stamp = document.getElementById("page-clock")?.dataset.now ?? "";
  if (stamp !== seen && stamp !== "") {
    seen = stamp;
    behindMs = Date.parse(stamp) - Date.now();
  }
  return Date.now() + behindMs;
}

/** "4:05" below an hour, "1 h 04 min" from there on. */
function duration(ms) {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  const two = (count) => String(count).padStart(2, "0");
  if (seconds < 3600) return `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
  return `${Math.floor(seconds / 3600)} h ${two(Math.floor(seconds / 60) % 60)} min`;
}

function count() {
  const now = serverNow();
  for (const timer of document.querySelectorAll("[data-since]"))
    write(timer, `for ${duration(now - Date.parse(timer.dataset.since))}`);
  for (const timer of document.querySelectorAll("[data-until]")) {
    const left = Date.parse(timer.dataset.until) - now;
    write(timer, left >= 0 ? `in ${duration(left)}` : `${duration(-left)} ago`);
  }
}

/** Only what has changed, so that nothing is read out or drawn for nothing. */
function write(timer, words) {
  if (timer.textContent !== words) timer.textContent = words;
}

setInterval(count, 1000);
document.addEventListener("htmx:after:swap", count);

/*
 * News may come in just before the answer to one's own tap, and take the tapped button away. What carries its id after
 * that takes the keyboard over, as it does after the answer itself.
 */
let focused = "";
document.addEventListener("htmx:before:swap", () => {
  focused = document.activeElement?.id ?? "";
});
document.addEventListener("htmx:after:swap", () => {
  if (focused !== "" && document.activeElement === document.body) document.getElementById(focused)?.focus();
});
count();
