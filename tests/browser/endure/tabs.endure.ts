// Races of two and three tabs on the same and on different records: what each typed is in the database, or was replaced in
// sight of the tab that replaced it, or the crew is told with both values.
import { expect, test, type Page } from "@playwright/test";
import { serve } from "../serve";
import { demo } from "../demo";

const RACES = Number(process.env.RACES ?? 200);

const mass = (page: Page, name: string) =>
  page.getByRole("listitem").filter({ hasText: name }).last().getByRole("textbox", { name: "Mass", exact: true });

const database = (page: Page) =>
  page.evaluate(
    () => new Promise<string>((done) => {
      const opening = indexedDB.open("liftmargin");
      opening.onsuccess = () => {
        const asked = opening.result.transaction("records").objectStore("records").getAll();
        asked.onsuccess = () => (opening.result.close(), done(asked.result.join("\n")));
      };
    }),
  );

test(`${RACES} races of two and three tabs`, async ({ browser }) => {
  const host = await serve();
  const tally = { merged: 0, told: 0, replacedInSight: 0, lost: 0 };
  const names = demo.setups[0]!.load.map((load) => demo.items.find((item) => item.id === load.item)!.name);
  for (let race = 0; race < RACES; race++) {
    const context = await browser.newContext();
    const tabs = await Promise.all(Array.from({ length: 2 + (race % 2) }, () => context.newPage()));
    for (const tab of tabs) {
      await tab.goto(`${host.url}#/build`);
      await expect(mass(tab, names[0]!)).toHaveValue(/\d/);
    }
    const same = race % 4 < 2;
    const typed = await Promise.all(
      tabs.map(async (tab, number) => {
        const value = 2 + race / 1000 + number / 4;
        await tab.waitForTimeout(Math.random() * 400);
        const field = mass(tab, names[same ? 0 : number]!);
        // What stood there in the moment of typing: another tab's value may come in at any time.
        const before = await field.evaluate((input: HTMLInputElement, value) => {
          const before = input.value;
          input.focus();
          input.value = value;
          input.dispatchEvent(new Event("input", { bubbles: true }));
          return before;
        }, String(value));
        return { tab, value, before };
      }),
    );
    await tabs[0]!.waitForTimeout(2500);
    const stored = await database(tabs[0]!);
    for (const { tab, value } of typed) {
      const isThere = stored.includes(`"mass_kg":${value}`);
      const told = await tab.locator('[data-note="other-tab"]').count();
      const inSight = typed.some((other) => other.before === String(value));
      if (isThere) tally.merged += 1;
      else if (told > 0) tally.told += 1;
      else if (inSight) tally.replacedInSight += 1;
      else {
        tally.lost += 1;
        console.log(`race ${race}: ${value} is lost of`, typed.map((one) => [one.before, one.value]));
      }
    }
    await context.close();
  }
  console.log(`${RACES} races:`, tally);
  expect(tally.lost).toBe(0);
  await host.stop();
});
