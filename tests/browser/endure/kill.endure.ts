// The browser is killed at a random moment after the last key: what comes back is never blank, never damaged, never older
// than a second.
import { expect, test } from "@playwright/test";
import { demo, demoText, lens } from "../demo";
import { serve } from "../serve";
import { forget, profile, start } from "./browser";

const RUNS = Number(process.env.RUNS ?? 200);
const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));

test(`killed after a key, ${RUNS} times`, async () => {
  const host = await serve();
  const folder = await profile();
  let certain = 0;
  let [kept, older] = [0, 0];
  const late: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    const { page, kill } = await start(folder);
    await page.goto(`${host.url}#/build`);
    const mass = page.getByRole("listitem").filter({ hasText: lens.name }).last().getByRole("textbox", { name: "Mass", exact: true });
    await expect(mass).toHaveValue(/\d/);
    const there = Number(await mass.inputValue());
    // What was on the disk before this run, or one of the words of the last one.
    if (run > 0) expect(words.includes(there), `run ${run}: ${there} of ${words}`).toBe(true);
    if (run > 0 && afterKey > 1000) {
      certain += 1;
      if (there === words.at(-1)) kept += 1;
      else late.push(afterKey);
    } else if (run > 0 && there !== words.at(-1)) older += 1;
    await expect(page.locator('[data-note="rescue"]')).toHaveCount(0);
    await expect(page.locator('[data-note="not-saved"]')).toHaveCount(0);
    words = [there];
    // Two edits, the first long enough ago to be certain.
    const [first, second] = [1000 + run, 5000 + run].map((grams) => grams / 1000) as [number, number];
    await mass.fill(String(first));
    await wait(1000);
    words = [first];
    await mass.fill(String(second));
    words.push(second);
    afterKey = Math.random() * 1500;
    await wait(afterKey);
    await kill();
  }
  console.log(`killed ${RUNS} times: ${certain} later than 1 s after the key, of which ${kept} had the last edit; ${older} of the others had the one before`);
  expect(late).toEqual([]);
  await forget(folder);
  await host.stop();
});

let words: number[] = [];
let afterKey = 0;

for (const kind of ["import", "migration"] as const) {
  test(`killed in an ${kind}, ${Math.ceil(RUNS / 4)} times`, async () => {
    const host = await serve();
    const many = JSON.parse(demoText) as typeof demo;
    many.items.push(...Array.from({ length: 400 }, (_, number) => ({ ...lens, id: `many-${number}`, name: `Many ${number}` })));
    const text = JSON.stringify(many);
    const found: Record<string, number> = {};
    for (let run = 0; run < RUNS / 4; run++) {
      const folder = await profile();
      const one = await start(folder);
      await one.page.goto(`${host.url}#/settings`);
      await expect(one.page.locator('[data-screen="settings"]')).toBeVisible();
      if (kind === "import") {
        await one.page.getByLabel("Import a file").setInputFiles({ name: "many.json", mimeType: "application/json", buffer: Buffer.from(text) });
      } else {
        const old = JSON.stringify({ stamp_ms: 1, selected: "", units: null, bundle: many, broken: [] });
        await one.page.evaluate((old) => localStorage.setItem("liftmargin-workspace", old), old);
        // Small storage reaches the disk late: the text is there before, as it was for weeks.
        await wait(run === 0 ? 6000 : 2500);
        await one.page.reload({ waitUntil: "commit" });
      }
      await wait(Math.random() * 1500);
      await one.kill();
      const two = await start(folder);
      await two.page.goto(`${host.url}#/build`);
      await expect(two.page.locator('[data-screen="build"]')).toBeVisible();
      await expect(two.page.locator('[data-note="rescue"]')).toHaveCount(0);
      await wait(700);
      const count = await two.page.evaluate(
        () => new Promise<number>((done) => {
          const opening = indexedDB.open("liftmargin");
          opening.onsuccess = () => {
            const asked = opening.result.transaction("records").objectStore("records").getAllKeys();
            asked.onsuccess = () => done(asked.result.filter((key) => String(key).startsWith("items/many-")).length);
          };
        }),
      );
      // All of it or none of it.
      expect([0, 400]).toContain(count);
      found[count] = (found[count] ?? 0) + 1;
      await two.kill();
      await forget(folder);
    }
    console.log(`${kind}: records found after the kill`, found);
    await host.stop();
  });
}
