/* What HTML alone cannot do: move the focus to a summary of errors, also after a swap. */
const focusErrors = (root) => {
  const summary = root.querySelector("[data-focus]");
  if (summary) summary.focus();
  if (summary && !document.title.startsWith("Error: ")) document.title = `Error: ${document.title}`;
};
document.addEventListener("DOMContentLoaded", () => focusErrors(document));
document.addEventListener("htmx:afterSwap", (event) => focusErrors(event.target));
document.addEventListener("htmx:sendError", () => {
  const said = document.getElementById("said");
  said.innerHTML = "";
  const line = document.createElement("p");
  line.className = "said error";
  line.textContent = "The network dropped. Nothing was lost: try again when it is back.";
  said.append(line);
});
/* A phone that is signed out forgets names and sections; what waits to be sent stays. */
if (!document.querySelector(".places")) window.indexedDB?.deleteDatabase("bench-kept");
