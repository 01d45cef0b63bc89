// Starts the app, then sees to it that the page works without a network. What the app may want to know:
//   <html data-offline="…"> and event "offline-…" on window:
//     ready         everything is kept, the network may go
//     failed        a file could not be fetched; it is tried again by itself, and "ready" may still come
//     unavailable   this browser, or a page that comes neither over https nor from this machine, keeps nothing
//   <html data-fallback="used"> and event "fallback-used": the newest version did not start, this is the one before;
//   <html data-update="waiting"> and event "update-waiting": a new version is here, and waits to be asked for;
// and what it may ask: event "apply-update" on window, after it has saved: one reload into the new version.

import { unpacked } from "./unpacked.js";

const page = document.documentElement;

/** Before the first try anew, and at last between two tries. */
const RETRY_MS = 10_000;
const LONGEST_RETRY_MS = 300_000;

function tell(key, value) {
  page.dataset[key] = value;
  dispatchEvent(new CustomEvent(`${key}-${value}`));
}

const version = document.querySelector("meta[name=version]").content;
// Where the app finds the script for work in a thread of its own.
page.dataset.aside = "./aside.js";

/** The style sheet that no phone's first card needs; a laptop's layout is in it. */
function styleTheRest() {
  document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: "./later.css" }));
}

async function startApp() {
  const isLaptop = matchMedia("(min-width: 56.25em)").matches;
  if (isLaptop) styleTheRest();
  const packed = fetch("./liftmargin_bg.wasm.gz");
  const app = await import("./liftmargin.js");
  await app.default({ module_or_path: unpacked(await packed) });
  dispatchEvent(new Event("app-runs"));
  if (!isLaptop) styleTheRest();
}

/** Started in earnest is: a screen is drawn. Only then has this version proved itself to the worker. */
function proveVersion() {
  const isDrawn = () => document.querySelector("[data-screen]:not([data-screen=stopped])");
  const told = () => {
    if (!isDrawn()) return false;
    page.dataset.started = version;
    navigator.serviceWorker?.ready.then(({ active }) => active?.postMessage({ started: version }));
    return true;
  };
  if (told()) return;
  const watch = new MutationObserver(() => told() && watch.disconnect());
  watch.observe(document.body, { childList: true, subtree: true });
}

async function keepForOffline() {
  const workers = navigator.serviceWorker;
  if (!workers) return tell("offline", "unavailable");
  let asked = false;
  workers.addEventListener("message", ({ data }) => data?.wentBack && tell("fallback", "used"));
  workers.startMessages();
  addEventListener("apply-update", async () => {
    asked = true;
    const waiting = (await workers.getRegistration())?.waiting;
    // None waits where another tab has asked for it already.
    if (waiting) waiting.postMessage("apply-update");
    else location.reload();
  });
  workers.addEventListener("controllerchange", () => {
    // Only the tab that asked: another one may be in the middle of a flight.
    if (asked) location.reload();
    asked = false;
  });
  let pause = RETRY_MS;
  for (;;) {
    try {
      await keep(workers);
      return tell("offline", "ready");
    } catch (reason) {
      console.warn("not kept for use without a network:", reason);
      tell("offline", "failed");
    }
    await backOrAfter(pause);
    pause = Math.min(2 * pause, LONGEST_RETRY_MS);
  }
}

/** Until a person, or the network, comes back; at the latest after a while. */
function backOrAfter(pause) {
  return new Promise((done) => {
    const stop = new AbortController();
    const timer = setTimeout(back, pause);
    function back() {
      if (document.visibilityState !== "visible" || !navigator.onLine) return;
      stop.abort();
      clearTimeout(timer);
      done();
    }
    document.addEventListener("visibilitychange", back, { signal: stop.signal });
    addEventListener("online", back, { signal: stop.signal });
  });
}

async function keep(workers) {
  const registration = await workers.register("./worker.js", { updateViaCache: "none" });
  await isActive(registration);
  if (!(await isKept(registration))) {
    // A worker that keeps nothing is none of ours: a host that answers nonsense. The next try begins anew.
    await registration.unregister();
    throw new Error("the worker that came keeps nothing");
  }
  watchForUpdates(registration);
}

/** Whether any version is kept here, by the names that `worker.js` gives. */
async function isKept(registration) {
  const names = await caches.keys();
  return names.some((name) => name.startsWith(`liftmargin ${registration.scope} `) && !name.endsWith(" state"));
}

/** Until a version is there that can serve; rejects where the first one of all could not be kept. */
function isActive(registration) {
  const worker = registration.installing ?? registration.waiting;
  return new Promise((done, fail) => {
    const look = () => {
      if (registration.active) done();
      else if (!worker || worker.state === "redundant") fail(new Error("a file could not be fetched"));
    };
    worker?.addEventListener("statechange", look);
    look();
  });
}

function watchForUpdates(registration) {
  const look = () => {
    // The first version of all is installed too, but replaces nothing.
    if (registration.waiting && registration.active) tell("update", "waiting");
  };
  // One may be on its way already.
  const follow = () => registration.installing?.addEventListener("statechange", look);
  look();
  follow();
  registration.addEventListener("updatefound", follow);
  // An installed app stays open for days; a look at the host now and when it comes back to the front is cheap.
  const lookAtHost = () => {
    if (document.visibilityState === "visible" && navigator.onLine) registration.update().catch(() => {});
  };
  lookAtHost();
  document.addEventListener("visibilitychange", lookAtHost);
}

try {
  await startApp();
  proveVersion();
} catch (reason) {
  // With nothing open there is nothing to lose: a waiting version may be the one that starts.
  addEventListener("update-waiting", () => dispatchEvent(new Event("apply-update")));
  console.error("could not start:", reason);
  dispatchEvent(new CustomEvent("app-stopped", { detail: String(reason) }));
}
keepForOffline();
