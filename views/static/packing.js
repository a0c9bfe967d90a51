/*
 * A scanner types wherever the keyboard is. At the packing table what it types goes to the lot field unless somebody
 * writes in another one; without this file the field is tapped first.
 */
function writesElsewhere(element) {
  return element?.closest("input:not([type=checkbox]), textarea, select") !== null;
}

document.addEventListener("keydown", (pressed) => {
  const field = document.getElementById("scanned-lot");
  if (!field || pressed.ctrlKey || pressed.altKey || pressed.metaKey) return;
  // Enter and the space bar press the button that has the keyboard.
  if (pressed.key.length !== 1 || pressed.key === " ") return;
  if (document.activeElement !== document.body && writesElsewhere(document.activeElement)) return;
  field.focus();
});

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
