// A host that lies, a version that does not start, an app that stops: at the end the app runs, old or new, and the data is there.
import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { goTo, kept, open, press, type } from "./act";
import { lens } from "./demo";
import { expect, seeReadyForOffline, test } from "./fixtures";
import { deadVersion, firstVisitLeftAlone, firstVisitUnderLie, screen, updateUnderLie } from "./update";

test.describe.configure({ timeout: 90_000 });

// Every file with every lie is `cargo xtask endure`'s.
for (const [part, lie] of [
  ["index.html", "a login page"],
  ["liftmargin_bg", "a cut file"],
  ["start-", "the file of the version before"],
  ["worker.js", "server fault"],
] as const) {
  test(`an update with ${lie} for ${part} leaves the old version, and comes when the host is whole`, async ({ page, host, problems }) => {
    await updateUnderLie(page, host, part, lie);
    problems.splice(0);
  });
}

for (const [part, lie] of [
  ["", "a login page"],
  ["start-", "a login page"],
  ["liftmargin_bg", "a cut file"],
  ["stopped-", "not found"],
  ["worker.js", "an empty file"],
] as const) {
  test(`a first visit with ${lie} for ${part || "everything"} heals by itself`, async ({ page, host, problems }) => {
    await firstVisitUnderLie(page, host, part, lie);
    problems.splice(0);
  });
}

for (const lie of ["not found", "a hanging file"]) {
  test(`a first visit with ${lie} for an icon is kept once the host is whole, with nobody touching it`, async ({ page, host, problems }) => {
    await firstVisitLeftAlone(page, host, "icons/", lie);
    problems.splice(0);
  });
}

test("a version that does not start gives way to the one before, which says so", async ({ page, host, problems }) => {
  await deadVersion(page, host, "throws at once");
  problems.splice(0);
});

test("a trap in the app: words, the data as a file, and it comes in again the same", async ({ page, problems }) => {
  await open(page, "build");
  await type(page.getByRole("listitem").filter({ hasText: lens.name }).last(), "Mass", "3.875");
  await kept(page, '"mass_kg":3.875');
  await seeReadyForOffline(page);
  await goTo(page, "Settings");
  const before = await saved(page, "Export all to a file");
  await page.evaluate(trap);
  const stopped = page.locator("[data-screen=stopped]");
  await expect(stopped).toContainText("What you entered is safe");
  await expect(stopped).toContainText("RuntimeError");
  await expect(page.getByRole("textbox")).toHaveCount(0);
  const text = await saved(page, "Save my data as a file");
  expect(filled(text)).toEqual(filled(before));
  await press(page, "Start again");
  await expect(screen(page)).toBeVisible();
  await press(page, "Start empty");
  await page.getByLabel("Import a file").setInputFiles({ name: "saved.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await kept(page, '"mass_kg":3.875');
  expect(JSON.parse(await saved(page, "Export all to a file"))).toEqual(JSON.parse(before));
  problems.splice(0);
});

/** What is in a file; a list with nothing in it may be left out. */
const filled = (text: string) =>
  Object.fromEntries(Object.entries(JSON.parse(text) as object).filter(([, part]) => !Array.isArray(part) || part.length > 0));

/** A trap in the app's own module: a pointer that is none, given back to its memory. */
async function trap() {
  const script = document.querySelector<HTMLLinkElement>("link[rel=modulepreload]")!.href;
  const module = (await import(script)) as { default(): Promise<{ __wbindgen_free(pointer: number, size: number, align: number): void }> };
  const exports = await module.default();
  setTimeout(() => exports.__wbindgen_free(0xfffffff0, 64, 4));
}

async function saved(page: Page, name: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent("download"), press(page, name)]);
  return readFile(await download.path(), "utf8");
}
