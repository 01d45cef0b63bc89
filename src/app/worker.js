// Keeps the whole page for use without a network. The build puts the line before this one:
//   const BUILD = { version, hashed, plain };   the files to keep; "hashed" ones are named by their content.
// A new version is fetched beside the old one, all of it or nothing, and waits until the page asks for it.

// One host may serve several copies below different paths, and they share one cache storage.
const OURS = `liftmargin ${registration.scope} `;
const KEPT = OURS + BUILD.version;

addEventListener("install", (event) => event.waitUntil(keep()));
addEventListener("activate", (event) => event.waitUntil(takeOver()));
addEventListener("message", (event) => {
  if (event.data === "apply-update") skipWaiting();
});
addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
  event.respondWith(answer(request));
});

async function keep() {
  const cache = await caches.open(KEPT);
  // A file that keeps its name may lie in the browser's own cache from an older version.
  const plain = BUILD.plain.map((path) => new Request(path, { cache: "reload" }));
  await cache.addAll([...BUILD.hashed, ...plain]);
}

async function takeOver() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(OURS) && name !== KEPT);
  await Promise.all(old.map((name) => caches.delete(name)));
  await clients.claim();
}

async function answer(request) {
  const cache = await caches.open(KEPT);
  // Screens are told apart by the fragment, so every page is the one page.
  const wanted = request.mode === "navigate" ? "./" : request;
  return (await cache.match(wanted, { ignoreVary: true })) ?? fetch(request);
}
