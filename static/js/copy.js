/* A button that copies a text; where the browser does not let it, the text is selected and copied by hand. */
const say = (words) => {
  const line = document.createElement("p");
  line.className = "said success";
  line.textContent = words;
  document.getElementById("said").replaceChildren(line);
};
for (const text of document.querySelectorAll("[data-copy]")) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "quiet";
  button.textContent = "Copy the text";
  button.addEventListener("click", async () => {
    text.select();
    try {
      await navigator.clipboard.writeText(text.value);
      button.textContent = "Copied";
      say("The text is copied.");
    } catch {
      say("The text is selected: copy it.");
    }
  });
  text.after(button);
}
