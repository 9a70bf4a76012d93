/* The board keeps itself up to date while somebody looks at it, and rests while nobody does. */
const EVERY_MS = 20_000;
const shown = () => document.querySelector("[data-live]");
const look = () => {
  const board = shown();
  if (board && document.visibilityState === "visible") htmx.trigger(board, "look");
};
let sideways = 0;
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.target === shown()) sideways = event.target.querySelector(".scroll").scrollLeft;
});
document.addEventListener("htmx:afterSettle", () => {
  const scroll = shown()?.querySelector(".scroll");
  if (scroll) scroll.scrollLeft = sideways;
});
document.addEventListener("visibilitychange", look);
setInterval(look, EVERY_MS);
