// A Chromium of our own that can be killed like a phone that loses power: its process and all below it, at once.
import { spawn, type ChildProcess } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Browser, type Page } from "@playwright/test";

export interface Killable {
  page: Page;
  /** SIGKILL to the whole group. */
  kill(): Promise<void>;
}

export const profile = () => mkdtemp(join(tmpdir(), "liftmargin-endure-"));
export const forget = (folder: string) => rm(folder, { recursive: true, force: true, maxRetries: 5 });

const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** Starts the browser on a profile that earlier ones have used. */
export async function start(folder: string): Promise<Killable> {
  const child = spawn(
    process.env.CHROMIUM ?? "/usr/bin/chromium",
    ["--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
     "--remote-debugging-port=0", `--user-data-dir=${folder}`, "about:blank"],
    { detached: true, stdio: ["ignore", "ignore", "pipe"] },
  );
  const browser = await chromium.connectOverCDP(await address(child));
  const page = browser.contexts()[0]!.pages()[0] ?? (await browser.contexts()[0]!.newPage());
  return { page, kill: () => kill(child, browser) };
}

function address(child: ChildProcess): Promise<string> {
  return new Promise((done, fail) => {
    let said = "";
    child.stderr!.on("data", (part: Buffer) => {
      said += part.toString();
      const found = /DevTools listening on (ws:\S+)/.exec(said);
      if (found) done(found[1]!);
    });
    child.on("exit", () => fail(new Error(`the browser ended: ${said.slice(-500)}`)));
  });
}

async function kill(child: ChildProcess, browser: Browser) {
  const ended = new Promise((done) => child.once("exit", done));
  process.kill(-child.pid!, "SIGKILL");
  await ended;
  await browser.close().catch(() => {});
  await wait(50);
}
