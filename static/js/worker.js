/* Answers for the bench where there is no network. KEPT stands above: version, shell, files, scope.
   Only the shell and its files are kept; no page that names a person or a price ever is. */
const NAME = `bench-shell-${KEPT.version}`;
const PATIENCE_MS = 5000;
const NO_SERVER = [502, 503, 504];

const keepShell = async () => {
  const cache = await caches.open(NAME);
  await cache.addAll(KEPT.files.map((file) => new Request(file, { credentials: "omit", cache: "reload" })));
  await self.skipWaiting();
};

const dropOlder = async () => {
  const older = (await caches.keys()).filter((name) => name.startsWith("bench-shell-") && name !== NAME);
  await Promise.all(older.map((name) => caches.delete(name)));
  await self.clients.claim();
};

const page = async (request) => {
  const tooSlow = new Promise((_, give) => setTimeout(() => give(new Error("slow")), PATIENCE_MS));
  try {
    const answer = await Promise.race([fetch(request), tooSlow]);
    if (!NO_SERVER.includes(answer.status)) return answer;
  } catch {
    // No network, or none to speak of: the shell stands in.
  }
  return (await caches.match(KEPT.shell)) || Response.error();
};

self.addEventListener("install", (event) => event.waitUntil(keepShell()));
self.addEventListener("activate", (event) => event.waitUntil(dropOlder()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const where = new URL(request.url);
  if (request.method !== "GET" || where.origin !== self.location.origin) return;
  if (request.mode === "navigate" && where.pathname === KEPT.scope) {
    event.respondWith(page(request));
  } else if (request.mode !== "navigate" && KEPT.files.includes(where.pathname)) {
    event.respondWith(caches.match(request, { ignoreSearch: true }).then((kept) => kept || fetch(request)));
  }
});
