// The page for people when the app is dead: it did not start, or stopped in the middle. Plain script, loaded before all
// else, with nothing of the app in it. The crew's data is never touched, only read; what is cleared is the app's own files.
(() => {
  const page = document.documentElement;
  const DATABASE = "liftmargin";
  /** A phone of some years needs a few seconds; nobody waits longer for a blank page. */
  const PATIENCE_MS = 20_000;
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
  setTimeout(() => page.dataset.started || stopped("it did not start in time"), PATIENCE_MS);

  function isTrap(error) {
    return typeof WebAssembly === "object" && error instanceof WebAssembly.RuntimeError;
  }

  async function stopped(reason) {
    if (isShown) return;
    isShown = true;
    console.warn("stopped:", reason);
    const hasStarted = "started" in page.dataset;
    if (!hasStarted && (await olderVersionServes())) return location.reload();
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
      await repair();
    }
    location.reload();
  }

  /** Lets go of the app's own files where the host can give them anew. Never of the data. */
  async function repair() {
    try {
      const answer = await fetch("./worker.js", { cache: "reload" });
      if (!answer.ok || !/javascript/.test(answer.headers.get("content-type") ?? "")) return;
      const registration = await navigator.serviceWorker?.getRegistration();
      const ours = (await caches.keys()).filter((name) => name.startsWith(`liftmargin ${registration?.scope ?? ""}`));
      await Promise.all(ours.map((name) => caches.delete(name)));
      await registration?.unregister();
    } catch {
      // Without a network there is nothing to fetch: what is kept stays.
    }
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

  /** The kept records as one file: a line before each says where it belongs, the rest is its JSON. */
  async function fromDatabase() {
    const rows = await records();
    if (!rows?.length) return undefined;
    const file = { liftmargin_schema: 1 };
    const aside = [];
    for (const [key, stored] of rows) {
      const end = stored.indexOf("\n");
      const [mark, , schema, , position, , kind] = stored.slice(0, end).split(" ");
      const [list, id] = String(key).split("/");
      if (kind === "deleted" || list === "file") continue;
      let record;
      try {
        record = JSON.parse(stored.slice(end + 1));
      } catch {
        aside.push({ key, stored });
        continue;
      }
      if (mark !== "lm1" || !id || list === "broken" || list === "rescue") aside.push({ key, stored });
      else if (list === "extra") file[id] = record;
      else {
        file.liftmargin_schema = Math.max(file.liftmargin_schema, Number(schema) || 1);
        (file[list] ??= []).push({ position: Number(position), record });
      }
    }
    for (const list of Object.keys(file)) {
      if (Array.isArray(file[list]) && file[list][0]?.record) {
        file[list].sort((a, b) => a.position - b.position);
        file[list] = file[list].map(({ record }) => record);
      }
    }
    for (const list of ["airframes", "pack_types", "packs", "items", "sites", "setups"]) file[list] ??= [];
    if (aside.length) file.set_aside = aside;
    return JSON.stringify(file, null, 2);
  }

  function records() {
    return new Promise((done, fail) => {
      const request = indexedDB.open(DATABASE);
      // Not there: it must not be made here.
      request.onupgradeneeded = () => request.transaction.abort();
      request.onerror = () => (request.error?.name === "AbortError" ? done(undefined) : fail(request.error));
      request.onsuccess = () => {
        const database = request.result;
        if (!database.objectStoreNames.contains("records")) return done(undefined);
        const store = database.transaction("records").objectStore("records");
        const [keys, values] = [store.getAllKeys(), store.getAll()];
        values.onsuccess = () => done(keys.result.map((key, place) => [key, values.result[place]]));
        values.onerror = () => fail(values.error);
      };
    });
  }

  /** Of versions before the database. */
  function fromOldStorage() {
    const key = Object.keys(localStorage).find((name) => name === "liftmargin.workspace") ?? Object.keys(localStorage).find((name) => name.startsWith("liftmargin") && localStorage[name]?.includes("bundle"));
    return key && localStorage[key];
  }
})();
