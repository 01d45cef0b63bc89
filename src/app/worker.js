// Keeps the whole page for use without a network. The build puts the line before this one:
//   const BUILD = { version, files: { path: SHA-256 in hexadecimal } };
// A version is installed only when every file is what was built, byte by byte: a login page, a cut file or a file of another
// version is none of it. It is on trial until it has drawn a screen once; the one before is kept until then and serves
// again where the new one does not start. All in one function: a cut script is no script.
(() => {
  // One host may serve several copies below different paths, and they share one cache storage.
  const OURS = `liftmargin ${registration.scope} `;
  const nameOf = (version) => OURS + version;
  // What is served, on trial or proved, and what did not start: in a cache of its own, since a worker forgets.
  const STATE = `${OURS}state`;
  /** A host that sends nothing of any file for so long sends nothing more. */
  const STALL_MS = 15_000;
  const TYPES = {
    "": "text/html; charset=utf-8",
    html: "text/html; charset=utf-8",
    js: "text/javascript; charset=utf-8",
    css: "text/css; charset=utf-8",
    gz: "application/gzip",
    svg: "image/svg+xml",
    png: "image/png",
    txt: "text/plain; charset=utf-8",
    webmanifest: "application/manifest+json",
  };

  // Who changes the state waits for who changes it now: a page that is opened while the version before is let go must not
  // be sent there.
  let last = Promise.resolve();
  const inTurn = (act) => (last = last.then(act, act));

  addEventListener("install", (event) => event.waitUntil(keep()));
  addEventListener("activate", (event) => event.waitUntil(inTurn(takeOver)));
  addEventListener("fetch", (event) => {
    const { request } = event;
    if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
    event.respondWith(answer(request));
  });
  addEventListener("message", (event) => {
    const { data } = event;
    if (data === "apply-update") event.waitUntil(skipWaiting());
    else if (data?.started) event.waitUntil(inTurn(() => proved(data.started, event.source)));
    else if (data?.failed) {
      const told = inTurn(() => failed(data.failed)).then((serving) => event.source?.postMessage({ serving }));
      event.waitUntil(told);
    }
  });

  async function keep() {
    const files = await Promise.all(Object.entries(BUILD.files).map(([path, sum]) => fetched(path, sum)));
    const cache = await caches.open(nameOf(BUILD.version));
    try {
      for (const [path, response] of files) await cache.put(path, response);
    } catch (reason) {
      await caches.delete(nameOf(BUILD.version));
      throw reason;
    }
  }

  /** A file that is what was built. The browser's own cache may hold something else: then it is asked for anew. */
  async function fetched(path, sum) {
    for (const cache of ["default", "reload"]) {
      // One that hung, or broke off, is asked for once more: the network may be another one by now.
      const content = await received(path, cache).catch(() => new ArrayBuffer(0));
      if ((await checksum(content)) === sum) {
        const ending = path.split("/").pop().split(".").slice(1).pop() ?? "";
        // Of a type that we know, whatever the host says.
        return [path, new Response(content, { headers: { "content-type": TYPES[ending] ?? "application/octet-stream" } })];
      }
    }
    throw new Error(`${path} is not what was built`);
  }

  // What is on its way. A slow link sends one file after the other: what waits for its turn does not hang.
  const coming = new Set();
  let stall;
  function alive() {
    clearTimeout(stall);
    stall = setTimeout(() => coming.forEach((one) => one.abort()), STALL_MS);
  }

  /** What the host sends; nothing where it refuses. Fails where it hangs. */
  async function received(path, cache) {
    const stop = new AbortController();
    coming.add(stop);
    alive();
    try {
      const response = await fetch(path, { cache, redirect: "follow", signal: stop.signal });
      const parts = [];
      const reader = response.ok && response.body?.getReader();
      for (let part = await reader?.read?.(); part && !part.done; part = await reader.read()) {
        parts.push(part.value);
        alive();
      }
      return await new Blob(parts).arrayBuffer();
    } finally {
      coming.delete(stop);
    }
  }

  async function checksum(content) {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
    return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  async function takeOver() {
    const before = await state();
    // Nothing to go back to: the first version of all is served whatever becomes of it.
    const previous = before.serving && before.serving !== BUILD.version ? before.serving : undefined;
    await remember({ serving: BUILD.version, previous, opened: 0 });
    await clients.claim();
  }

  /** A version has drawn a screen: the others may go. */
  async function proved(version, page) {
    const now = await state();
    // Given up too early, by a second tab or an impatient reload.
    const isLate = version === now.failed && (await caches.has(nameOf(version)));
    if (version !== now.serving && !isLate) return;
    if (now.previous || isLate) await remember({ serving: version, opened: 0 });
    else if (now.failed && !now.told) {
      page?.postMessage({ wentBack: now.failed });
      await remember({ ...now, told: true });
    }
    const old = (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== nameOf(version) && name !== STATE);
    // A version that waits to be asked for has its cache already.
    const waiting = registration.waiting || registration.installing;
    if (!waiting) await Promise.all(old.map((name) => caches.delete(name)));
  }

  /** A version did not start: the one before serves again. Tells which one serves now. */
  async function failed(version) {
    const now = await state();
    if (version === now.serving && now.previous) {
      await remember({ serving: now.previous, failed: version, opened: 0 });
      return now.previous;
    }
    return now.serving;
  }

  /** A storage that fails is no reason to leave the page without an answer while there is a network. */
  async function answer(request) {
    try {
      return await keptOrFetched(request);
    } catch {
      return fetch(request);
    }
  }

  /** The state for a page that is opened. One that cannot even say that it failed is opened again by a person: the second
   * time it is taken as failed. */
  async function opened() {
    const now = await state();
    if (!now.previous) return now;
    if (now.opened >= 1) {
      await failed(now.serving);
      return state();
    }
    await remember({ ...now, opened: now.opened + 1 });
    return now;
  }

  async function keptOrFetched(request) {
    const navigates = request.mode === "navigate";
    const now = await (navigates ? inTurn(opened) : state());
    const options = { ignoreVary: true, ignoreSearch: true };
    const cache = await caches.open(nameOf(now.serving ?? BUILD.version));
    // Screens are told apart by the fragment, so every page that is no file of its own is the one page.
    const kept = (await cache.match(request, options)) ?? (navigates ? await cache.match("./", options) : undefined);
    // Another version's page may still be open, and ask for its own files.
    return kept ?? (navigates ? undefined : await elsewhere(request)) ?? fetch(request);
  }

  async function elsewhere(request) {
    for (const name of await caches.keys()) {
      if (!name.startsWith(OURS) || name === STATE) continue;
      const kept = await (await caches.open(name)).match(request, { ignoreVary: true });
      if (kept) return kept;
    }
    return undefined;
  }

  async function state() {
    try {
      const kept = await (await caches.open(STATE)).match("state.json");
      return kept ? await kept.json() : {};
    } catch {
      return {};
    }
  }

  async function remember(now) {
    await (await caches.open(STATE)).put("state.json", new Response(JSON.stringify(now)));
  }
})();
