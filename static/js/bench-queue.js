/* The queue on the phone: every tap is written here first, and leaves when the server has it.
   Each carries a key made here, so that sending it twice books it once. */
const benchQueue = (() => {
  const QUEUE = { name: "bench-queue", store: "taps", options: { keyPath: "number", autoIncrement: true } };
  const KEPT = { name: "bench-kept", store: "tiles", options: {} };
  const PATIENCE_MS = 15000;

  const opened = ({ name, store, options }) =>
    new Promise((give, fail) => {
      const asked = indexedDB.open(name, 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore(store, options);
      asked.onerror = () => fail(asked.error);
      asked.onsuccess = () => {
        // Signing out removes the tiles, also from under an open page.
        asked.result.onversionchange = () => asked.result.close();
        give(asked.result);
      };
    });

  const within = async (where, mode, act) => {
    const database = await opened(where);
    try {
      return await new Promise((give, fail) => {
        // A flat battery must find what was tapped on the disk.
        const change = database.transaction(where.store, mode, { durability: "strict" });
        const asked = act(change.objectStore(where.store));
        change.oncomplete = () => give(asked.result);
        change.onerror = change.onabort = () => fail(change.error);
      });
    } finally {
      database.close();
    }
  };

  const key = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/, "$1-$2-$3-$4-$5");
  };

  const add = (tap) => within(QUEUE, "readwrite", (taps) => taps.add(tap));
  const all = () => within(QUEUE, "readonly", (taps) => taps.getAll());
  const remove = (number) => within(QUEUE, "readwrite", (taps) => taps.delete(number));
  const change = (tap) => within(QUEUE, "readwrite", (taps) => taps.put(tap));
  const keepTiles = (tiles) => within(KEPT, "readwrite", (kept) => kept.put(tiles, "tiles"));
  const keptTiles = () => within(KEPT, "readonly", (kept) => kept.get("tiles"));

  /* Fetch what the phone keeps, with a token for sending. Answers undefined where one has to sign in. */
  const fetchTiles = async (from) => {
    const answer = await fetch(from, {
      headers: { Accept: "application/json" },
      redirect: "manual",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (answer.type === "opaqueredirect") return undefined;
    if (!answer.ok) throw new Error(`answered ${answer.status}`);
    const tiles = await answer.json();
    const { csrf, ...kept } = tiles;
    await keepTiles(kept);
    return tiles;
  };

  const post = (tap, csrf) =>
    fetch(tap.to, {
      method: "POST",
      body: new URLSearchParams(tap.fields),
      headers: { Accept: "application/json", "X-CSRFToken": csrf },
      redirect: "manual",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });

  /* Send what waits, in the order of the taps. Answers "sent", "no network" or "sign in". */
  const send = async (tilesFrom) => {
    const waiting = (await all()).filter((tap) => !tap.refused);
    if (!waiting.length) return "sent";
    try {
      const tiles = await fetchTiles(tilesFrom);
      if (!tiles) return "sign in";
      for (const tap of waiting) {
        const answer = await post(tap, tiles.csrf);
        if (answer.type === "opaqueredirect") return "sign in";
        if (answer.status === 422) {
          await change({ ...tap, refused: (await answer.json()).refused });
        } else if (answer.ok) {
          await remove(tap.number);
        } else {
          return "no network";
        }
      }
    } catch {
      return "no network";
    }
    return "sent";
  };

  return { add, all, remove, change, key, send, fetchTiles, keptTiles };
})();
