// The page for people when the app is dead: it did not start, or stopped in the middle. Plain script, loaded before all
// else, with nothing of the app in it. The crew's data is never touched, only read; what is cleared is the app's own files.
(() => {
  const page = document.documentElement;
  const DATABASE = "liftmargin";
  /** A phone of some years needs a few seconds; nobody waits longer for a page on which nothing moves. */
  const PATIENCE_MS = 20_000;
  /** Kept beside the lists of records. */
  const NO_LISTS = ["broken", "rescue"];
  const REPAIRED = "liftmargin-repaired";
  let isShown = false;

  addEventListener("error", (event) => {
    // A refused image is no reason to stop; a trap in the module always is.
    if (event.error && (isTrap(event.error) || !page.dataset.started)) stopped(String(event.error));
    else if (event.target instanceof HTMLScriptElement) stopped(`a part of the app could not be loaded: ${event.target.src}`);
  }, true);
  addEventListener("unhandledrejection", (event) => {
    if (isTrap(event.reason)) stopped(String(event.reason));
  });
  addEventListener("app-stopped", (event) => stopped(event.detail));
  // It came after all.
  addEventListener("app-runs", () => {
    clearTimeout(timer);
    document.querySelector("[data-screen=stopped]")?.remove();
    isShown = false;
    once(() => sessionStorage.removeItem(REPAIRED));
  });
  addEventListener("app-alive", wait);
  let timer;
  wait();

  function wait() {
    clearTimeout(timer);
    timer = setTimeout(() => page.dataset.started || stopped("it did not start in time"), PATIENCE_MS);
  }

  /** What a blocked storage refuses is left. */
  function once(act) {
    try {
      return act();
    } catch {
      return undefined;
    }
  }

  function isTrap(error) {
    return typeof WebAssembly === "object" && error instanceof WebAssembly.RuntimeError;
  }

  async function stopped(reason) {
    if (isShown) return;
    isShown = true;
    console.warn("stopped:", reason);
    const hasStarted = "started" in page.dataset;
    if (!hasStarted && (await olderVersionServes())) return location.reload();
    // A file that a host once gave wrongly may still be kept by the browser: fetched anew by itself, once with success.
    const mayRepair = !hasStarted && once(() => sessionStorage.getItem(REPAIRED) === null);
    if (mayRepair && (await repair()) && !page.dataset.started) {
      once(() => sessionStorage.setItem(REPAIRED, "yes"));
      return location.reload();
    }
    if (!hasStarted && page.dataset.started) return (isShown = false);
    if (document.body) show(reason, hasStarted);
    else addEventListener("DOMContentLoaded", () => show(reason, hasStarted));
  }

  /** Whether the worker went back to the version before. */
  async function olderVersionServes() {
    const worker = navigator.serviceWorker?.controller;
    const version = document.querySelector("meta[name=version]")?.content;
    if (!worker || !version) return false;
    const told = new Promise((done) => {
      navigator.serviceWorker.addEventListener("message", (event) => done(event.data?.serving), { once: true });
      setTimeout(done, 2_000);
    });
    navigator.serviceWorker.startMessages();
    worker.postMessage({ failed: version });
    const serving = await told;
    return Boolean(serving) && serving !== version;
  }

  function show(reason, hasStarted) {
    const report = `${reason}\n${navigator.userAgent}\n${document.querySelector("meta[name=version]")?.content ?? ""}`;
    const main = element("main", { className: "stopped", tabIndex: -1 });
    main.dataset.screen = "stopped";
    main.setAttribute("role", "alert");
    const note = element("p", { role: "status" });
    main.append(
      element("h1", { textContent: hasStarted ? "Liftmargin has stopped" : "Liftmargin could not start in this browser" }),
      element("p", {
        textContent: hasStarted
          ? "It met something that it did not expect. What you entered is safe: it is kept on this device, up to the last second or so."
          : "Please start it again; if that does not help, update the browser or use another one. What you entered is safe: it is kept on this device.",
      }),
      element("p", { textContent: "Do not plan a flight by figures that were on the screen before." }),
      button("Start again", () => startAgain(hasStarted, note)),
      button("Save my data as a file", () => saveData(note)),
      note,
      element("h2", { textContent: "To report it" }),
      element("p", { textContent: "Say what you did just before, and give these lines:" }),
      element("pre", { textContent: report }),
    );
    document.body.replaceChildren(main);
    main.focus();
  }

  function element(tag, properties) {
    return Object.assign(document.createElement(tag), properties);
  }

  function button(name, act) {
    const made = element("button", { type: "button", textContent: name, className: "button" });
    made.addEventListener("click", act);
    return made;
  }

  async function startAgain(hasStarted, note) {
    if (!hasStarted) {
      note.textContent = "Fetching the app anew …";
      if (!(await repair())) note.textContent = "The app cannot be fetched anew just now; what is kept is tried again …";
    }
    location.reload();
  }

  /** Lets go of the app's own files once the host has given all of them anew and whole. Never of the data. */
  async function repair() {
    try {
      const list = new TextDecoder().decode(await fetchedAnew("./worker.js")).split("\n")[0];
      const files = [...list.matchAll(/"([^"]+)": "([0-9a-f]{64})"/g)];
      const whole = await Promise.all(files.map(async ([, path, sum]) => (await checksum(await fetchedAnew(path))) === sum));
      if (!whole.length || whole.includes(false)) return false;
      const registration = await navigator.serviceWorker?.getRegistration();
      const ours = (await caches.keys()).filter((name) => registration && name.startsWith(`liftmargin ${registration.scope}`));
      await Promise.all(ours.map((name) => caches.delete(name)));
      await registration?.unregister();
      return true;
    } catch {
      // Without a network there is nothing to fetch: what is kept stays.
      return false;
    }
  }

  async function fetchedAnew(path) {
    const answer = await fetch(path, { cache: "reload", signal: AbortSignal.timeout(60_000) });
    if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
    return answer.arrayBuffer();
  }

  async function checksum(content) {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
    return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  async function saveData(note) {
    try {
      const text = (await fromDatabase()) ?? fromOldStorage();
      if (!text) {
        note.textContent = "Nothing of your own is kept on this device yet.";
        return;
      }
      const link = element("a", {
        href: URL.createObjectURL(new Blob([text], { type: "application/json" })),
        download: "liftmargin-data.json",
      });
      document.body.append(link);
      link.click();
      link.remove();
      note.textContent = "Saved. Import it in Settings when the app works again, on this or another device.";
    } catch (reason) {
      note.textContent = `The data could not be read just now (${reason}). It stays where it is.`;
    }
  }

  /** The kept records as one file. Each stands behind a line: mark, checksum, schema, version, position, writer, kind. */
  async function fromDatabase() {
    const rows = await records();
    if (!rows?.length) return undefined;
    const file = { liftmargin_schema: 1 };
    const lists = {};
    const aside = [];
    for (const { key, now, previous } of rows) {
      const read = readRow(key, now);
      if (!read) aside.push({ key, stored: now });
      const { schema, position, isDeleted, record } = read ?? readRow(key, previous) ?? { isDeleted: true };
      const [list, id] = key.split("/");
      if (isDeleted) continue;
      file.liftmargin_schema = Math.max(file.liftmargin_schema, schema);
      if (NO_LISTS.includes(list)) aside.push({ key, stored: now });
      else if (list === "extra") file[id] = record;
      else (lists[list] ??= []).push({ position, record });
    }
    const byPosition = (a, b) => a.position - b.position;
    for (const [list, kept] of Object.entries(lists)) file[list] = kept.sort(byPosition).map(({ record }) => record);
    if (aside.length) file.set_aside = aside;
    return JSON.stringify(file, null, 2);
  }

  /** Nothing where it is not what the app wrote. */
  function readRow(key, stored) {
    const [, sum, checked] = /^lm1 ([0-9a-f]{8}) ([^]*)$/.exec(stored ?? "") ?? [];
    if (!sum || crc32(`${key}\n${checked}`) !== parseInt(sum, 16)) return undefined;
    const end = checked.indexOf("\n");
    const [schema, , position, , kind] = checked.slice(0, end).split(" ");
    if (kind === "deleted") return { isDeleted: true };
    const record = once(() => JSON.parse(checked.slice(end + 1)));
    return record === undefined ? undefined : { schema: Number(schema), position: Number(position), record };
  }

  /** CRC-32 of IEEE 802.3. */
  function crc32(text) {
    let sum = ~0;
    for (const byte of new TextEncoder().encode(text)) {
      sum ^= byte;
      for (let bit = 0; bit < 8; bit++) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
    }
    return ~sum >>> 0;
  }

  function records() {
    return new Promise((done, fail) => {
      const request = indexedDB.open(DATABASE);
      // Not there: it must not be made here.
      request.onupgradeneeded = () => request.transaction.abort();
      request.onerror = () => (request.error?.name === "AbortError" ? done(undefined) : fail(request.error));
      request.onsuccess = () => {
        const database = request.result;
        const names = ["records", "previous"];
        if (!names.every((name) => database.objectStoreNames.contains(name))) return database.close(), done(undefined);
        const reading = database.transaction(names);
        const [now, previous] = names.map((name) => {
          const store = reading.objectStore(name);
          return [store.getAllKeys(), store.getAll()];
        });
        reading.onerror = reading.onabort = () => fail(reading.error);
        reading.oncomplete = () => {
          database.close();
          const earlier = new Map(previous[0].result.map((key, place) => [key, previous[1].result[place]]));
          done(now[0].result.map((key, place) => ({ key: String(key), now: now[1].result[place], previous: earlier.get(key) })));
        };
      };
    });
  }

  /** Of versions before the database: one text, with what a file holds in the middle of it. */
  function fromOldStorage() {
    const stored = localStorage.getItem("liftmargin-workspace");
    const bundle = stored && once(() => JSON.parse(stored).bundle);
    return bundle ? JSON.stringify(bundle, null, 2) : stored;
  }
})();
