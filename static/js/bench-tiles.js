/* Draws the tiles of the shell from what the phone keeps; the page with a network brings its own. */
const benchTiles = (() => {
  const SVG = "http://www.w3.org/2000/svg";

  const made = (name, text = "", values = {}) => {
    const element = Object.assign(document.createElement(name), values);
    if (text) element.textContent = text;
    return element;
  };

  const hatch = (name) => {
    const drawing = document.createElementNS(SVG, "svg");
    drawing.setAttribute("viewBox", "0 0 44 44");
    drawing.setAttribute("aria-hidden", "true");
    const square = document.createElementNS(SVG, "rect");
    const values = { x: 1, y: 1, width: 42, height: 42 };
    if (name) Object.assign(values, { class: "hatched", fill: `url(#bench-${name})` });
    for (const [key, value] of Object.entries(values)) square.setAttribute(key, value);
    drawing.append(square);
    return drawing;
  };

  const tile = (number, found) => {
    const label = made("label", "", { className: "tile" });
    const radio = made("input", "", { type: "radio", name: "stage", value: number });
    radio.dataset.words = `${found.section}, ${found.stage}`;
    const words = made("span", found.section);
    words.append(made("small", [found.commission, found.stage, found.state].filter(Boolean).join(" · ")));
    label.append(radio, hatch(found.hatch), words);
    return label;
  };

  const group = (found, tiles) => {
    const details = made("details", "", { className: "group" });
    const summary = made("summary", `${found.title} `);
    summary.append(made("small", `${found.number}, every section`));
    const box = made("div", "", { className: "tiles" });
    box.append(...found.stages.map((number) => tile(number, tiles[number])));
    details.append(summary, box);
    return details;
  };

  /* Fill the shell for the person asked for, or the one who signed in. */
  const fill = (form, kept, today) => {
    const asked = Number(new URLSearchParams(location.search).get("person"));
    const person = kept.people.find((one) => one.id === asked) || kept.people.find((one) => one.id === kept.me);
    form.elements.person.value = person.id;
    form.elements.work_date.value = today;
    form.dataset.today = today;
    form.dataset.personName = person.name;
    document.querySelector("[data-name]").textContent = person.name;
    document.querySelector("[data-sum]").dataset.minutes = kept.today === today ? person.minutes : 0;
    form.querySelector("[data-lately]").append(...person.lately.map((number) => tile(number, kept.tiles[number])));
    const groups = kept.groups.map((found) => group(found, kept.tiles));
    if (groups.length === 1) groups[0].open = !person.lately.length;
    form.querySelector("[data-groups]").append(...groups);
    const others = kept.people.filter((one) => one !== person);
    const links = others.map((one) => made("a", one.name, { className: "act quiet go", href: `?person=${one.id}` }));
    document.querySelector("[data-people] .acts").append(...links);
    document.querySelector("[data-people]").hidden = !others.length;
    form.hidden = false;
  };

  return { fill };
})();
