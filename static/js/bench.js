/* The bench page: says on the button what it will book, books through the queue, undoes for half a minute. */
(() => {
  const form = document.querySelector("[data-booking]");
  if (!form) return;
  const UNDO_MS = 30000;
  const SOON_MS = 1000;
  const SELDOM_MS = 30000;
  const QUARTER = 15;
  const LONGEST = 720;
  const told = form.dataset;
  const find = (name) => document.querySelector(`[data-${name}]`);
  const [go, sum, said, undo, waiting] = ["go", "sum", "said", "undo", "waiting"].map(find);
  const loadedOn = localDay();
  let adjusted = 0;
  let undoTimer;
  let settled = 0;

  function localDay() {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  }

  const counted = (minutes) => {
    const [whole, rest] = [Math.floor(minutes / 60), minutes % 60];
    return whole ? `${whole} h${rest ? ` ${String(rest).padStart(2, "0")}` : ""}` : `${rest} min`;
  };
  const length = (minutes) => `${Math.floor(minutes / 60) || ""}${["", "¼", "½", "¾"][(minutes % 60) / QUARTER]} h`;
  const values = () => new FormData(form);
  const minutes = () => Number(values().get("length") || values().get("minutes") || 0) + adjusted;
  const stage = () => form.querySelector("[name=stage]:checked");
  const say = (text) => {
    said.textContent = text;
    said.hidden = !text;
  };

  const relabel = () => {
    const [long, on] = [minutes(), stage()?.dataset.words];
    const time = long ? length(long) : "it";
    go.textContent = on ? `Book ${time} on ${on}` : `Book ${time}`;
  };

  /* The day is today's by the phone, where phone and studio agreed about it when the page came. */
  const workDate = () => {
    const shown = form.elements.work_date.value;
    return shown === told.today && loadedOn === told.today ? localDay() : shown;
  };

  const showSum = (taps) => {
    const mine = taps.filter((tap) => tap.person === form.elements.person.value && tap.day === workDate());
    const pending = mine.filter((tap) => !tap.refused).reduce((total, tap) => total + tap.minutes, 0);
    sum.textContent = `${sum.dataset.sum}: ${counted(Math.max(0, Number(sum.dataset.minutes) + settled + pending))}`;
  };

  const item = (tap) => {
    const line = document.createElement("li");
    const words = document.createElement("span");
    words.textContent = tap.refused ? `${tap.words}: ${tap.refused}` : tap.words;
    line.append(words);
    if (tap.refused) line.append(act("Send again", () => again(tap)), act("Remove", () => forget(tap)));
    return line;
  };

  const act = (text, does) => {
    const button = document.createElement("button");
    Object.assign(button, { type: "button", className: "quiet go", textContent: text });
    button.addEventListener("click", does);
    return button;
  };

  const again = async ({ refused, ...tap }) => {
    await benchQueue.change(tap);
    await trySoon();
  };
  const forget = async (tap) => {
    await benchQueue.remove(tap.number);
    await show(await benchQueue.send(told.tiles));
  };

  const show = async (how) => {
    const taps = await benchQueue.all();
    const [refused, held] = [taps.filter((tap) => tap.refused).length, taps.filter((tap) => !tap.refused).length];
    const parts = [];
    if (held) parts.push(how === "sign in" ? `${held} waiting: sign in to send` : `${held} waiting for the network`);
    if (refused) parts.push(`${refused} not booked: look above`);
    find("waiting-count").textContent = parts.map((part) => `· ${part}`).join(" ");
    const link = document.createElement("a");
    Object.assign(link, { href: `${told.signIn}?next=${told.bench}`, textContent: "Sign in to send" });
    link.className = "act go";
    find("waiting-list").replaceChildren(...taps.map(item), ...(how === "sign in" && held ? [link] : []));
    waiting.hidden = !taps.length;
    showSum(taps);
  };

  /* What the server has by now counts, whichever page sent it and whether or not its answer came through. */
  const reckon = async () => {
    const tiles = await benchQueue.fetchTiles(told.tiles).catch(() => undefined);
    const person = tiles?.people.find((one) => one.id === Number(form.elements.person.value));
    if (!person || tiles.today !== workDate()) return;
    sum.dataset.minutes = person.minutes;
    settled = 0;
    showSum(await benchQueue.all());
  };

  /* What could not be sent is tried again, ever less often, until the network or the person comes back. */
  let pause = SOON_MS;
  let next;
  const tryLater = () => {
    next = setTimeout(() => document.hidden || flush(), pause);
    pause = Math.min(2 * pause, SELDOM_MS);
  };
  const trySoon = () => {
    pause = SOON_MS;
    return flush();
  };

  let sending;
  const flush = () => {
    clearTimeout(next);
    sending ??= (async () => {
      let isLeft = true;
      try {
        const before = await benchQueue.all();
        const how = await benchQueue.send(told.tiles);
        const now = await benchQueue.all();
        const after = new Set(now.map((tap) => tap.number));
        const mine = (tap) => tap.person === form.elements.person.value && tap.day === workDate();
        settled += before.filter((tap) => !after.has(tap.number) && mine(tap)).reduce((total, tap) => total + tap.minutes, 0);
        await show(how);
        // What was worked on last stands first, also where the next page comes without a network.
        if (how === "sent" && before.length) await reckon();
        // A tap that came while others were being sent was not among them.
        isLeft = (await benchQueue.all()).some((tap) => !tap.refused);
        return how;
      } finally {
        if (isLeft) tryLater();
        else pause = SOON_MS;
      }
    })().finally(() => (sending = undefined));
    return sending;
  };

  const offerUndo = (tap) => {
    clearTimeout(undoTimer);
    find("undo-words").textContent = `Booked: ${tap.words}.`;
    undo.hidden = false;
    undo.tap = tap;
    undoTimer = setTimeout(() => (undo.hidden = true), UNDO_MS);
  };

  const queued = async (tap) => {
    try {
      await benchQueue.add(tap);
    } catch {
      return false;
    }
    navigator.storage?.persist?.();
    await show("no network");
    trySoon();
    return true;
  };

  form.addEventListener("submit", async (event) => {
    if (event.submitter?.hasAttribute("formaction")) return;
    event.preventDefault();
    const [on, long] = [stage(), minutes()];
    if (!on) return say("Tap a section and its stage.");
    if (long < QUARTER || long > LONGEST) return say("Tap how long it took.");
    say("");
    const [key, person, day] = [benchQueue.key(), form.elements.person.value, workDate()];
    const who = told.personName ? `${told.personName}, ` : "";
    const tap = {
      to: form.getAttribute("action"),
      fields: { key, person, work_date: day, stage: on.value, minutes: long },
      words: `${who}${length(long)} on ${on.dataset.words}`,
      ...{ key, person, day, minutes: long, at: new Date().toISOString() },
    };
    if (await queued(tap)) {
      offerUndo(tap);
      clear();
    } else {
      // The phone keeps nothing: send the plain form.
      HTMLFormElement.prototype.submit.call(form);
    }
  });

  find("undo-act").addEventListener("click", async () => {
    const { tap } = undo;
    undo.hidden = true;
    const key = benchQueue.key();
    const words = `Undo: ${tap.words}`;
    const fields = { key, of: tap.key };
    await queued({ ...tap, to: told.undoTo, fields, words, key, minutes: -tap.minutes });
  });

  const clear = () => {
    form.querySelectorAll("[name=stage], [name=minutes]").forEach((radio) => (radio.checked = false));
    if (form.elements.length) form.elements.namedItem("length").value = "";
    adjusted = 0;
    relabel();
  };

  /* With a script the quarters are buttons that may be tapped again and again. */
  const quarters = () => {
    const radios = [...form.querySelectorAll("[name=quarter]")];
    const row = radios[0]?.closest(".lengths");
    row?.replaceChildren(
      ...[-QUARTER, QUARTER].map((step) =>
        act(step < 0 ? "− ¼ h" : "+ ¼ h", () => {
          const wanted = minutes() + step;
          if (wanted >= QUARTER && wanted <= LONGEST) adjusted += step;
          relabel();
        }),
      ),
    );
  };

  const begin = async () => {
    if ("shell" in told) {
      const kept = await benchQueue.keptTiles().catch(() => undefined);
      if (kept) benchTiles.fill(form, kept, localDay());
      else find("nothing").hidden = false;
    }
    quarters();
    relabel();
    await show("no network");
    await flush();
    await reckon();
  };

  form.addEventListener("change", (event) => {
    if (["minutes", "length"].includes(event.target.name)) adjusted = 0;
    if (event.target.name === "minutes") form.elements.namedItem("length").value = "";
    relabel();
  });
  window.addEventListener("online", trySoon);
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    if (loadedOn !== localDay()) location.reload();
    else trySoon();
  });
  const fresh = find("fresh");
  if (fresh) setTimeout(() => fresh.remove(), UNDO_MS);
  navigator.serviceWorker?.register(told.worker, { scope: told.bench });
  begin();
})();
