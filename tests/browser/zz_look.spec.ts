import { test, expect } from "./fixtures";
import { open, unfold } from "./act";
import { lens } from "./demo";
import { settled } from "./see";
test.setTimeout(240_000);
for (const [w,h] of [[390,844],[1280,800]] as const) for (const scheme of ["light","dark"] as const) {
  if (w===1280 && scheme==="dark") continue;
  test(`look ${w} ${scheme}`, async ({ page }) => {
    await page.setViewportSize({ width: w, height: h });
    await page.emulateMedia({ colorScheme: scheme });
    await open(page, "build");
    const sweep = page.locator('[data-panel="sweep"]');
    await sweep.locator("summary").first().click();
    await expect(sweep.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 60000 });
    await sweep.screenshot({ path: `/tmp/look/sweep-${w}-${scheme}.png` });
    for (const axis of ["wind","rotor-diameter","distance"]) {
      await sweep.getByRole("combobox", { name: "Vary" }).selectOption(axis);
      await expect(sweep.locator(".curve")).toHaveAttribute("aria-busy", "true");
      await expect(sweep.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 60000 });
      await sweep.screenshot({ path: `/tmp/look/sweep-${axis}-${w}-${scheme}.png` });
      console.log(axis, await sweep.locator('[data-figure="sweep-limits"]').textContent());
    }
    const compare = page.locator('[data-panel="compare"]');
    await compare.locator("summary").first().click();
    await expect(compare.locator('[data-table="compare"]')).toHaveAttribute("aria-busy", "false", { timeout: 60000 });
    await compare.screenshot({ path: `/tmp/look/compare-${w}-${scheme}.png` });
    console.log("wide", await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), await compare.locator(".compare-place").first().evaluate(e => e.scrollWidth - e.clientWidth));
    await open(page, "card");
    await settled(page);
    const sheet = page.locator('[data-sheet="heavier"]');
    await sheet.locator("summary").click();
    await sheet.getByRole("button", { name: lens.name }).click();
    await expect(sheet.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 60000 });
    await sheet.getByRole("slider").fill("8");
    await settled(page);
    await sheet.screenshot({ path: `/tmp/look/slider-${w}-${scheme}.png` });
    console.log("wide", await page.evaluate(() => document.documentElement.scrollWidth - innerWidth));
  });
}
test("tasks at 4x", async ({ page }) => {
  await page.addInitScript(() => { (window as any).tasks = []; new PerformanceObserver((l) => { for (const e of l.getEntries()) (window as any).tasks.push([Math.round(e.startTime), Math.round(e.duration)]); }).observe({ entryTypes: ["longtask"] }); });
  await open(page, "build");
  await page.waitForTimeout(3000);
  const cdp = await page.context().newCDPSession(page);
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await page.waitForTimeout(500);
  const sweep = page.locator('[data-panel="sweep"]');
  for (const axis of ["payload-mass","wind","rotor-diameter"]) {
    await page.evaluate(() => ((window as any).tasks = []));
    const t = Date.now();
    if (axis === "payload-mass") await sweep.locator("summary").first().click(); else await sweep.getByRole("combobox", { name: "Vary" }).selectOption(axis);
    await page.waitForTimeout(100);
    await expect(sweep.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 120000 });
    console.log(axis, Date.now() - t, "ms", JSON.stringify(await page.evaluate(() => (window as any).tasks)));
  }
  await page.evaluate(() => ((window as any).tasks = []));
  const t = Date.now();
  const compare = page.locator('[data-panel="compare"]');
  await compare.locator("summary").first().click();
  await expect(compare.locator('[data-table="compare"]')).toHaveAttribute("aria-busy", "false", { timeout: 120000 });
  console.log("compare", Date.now() - t, "ms", JSON.stringify(await page.evaluate(() => (window as any).tasks)));
  await open(page, "card"); await settled(page);
  const sheet = page.locator('[data-sheet="heavier"]');
  await sheet.locator("summary").click();
  await sheet.getByRole("button", { name: lens.name }).click();
  await expect(sheet.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 120000 });
  await page.evaluate(() => ((window as any).tasks = []));
  const drags = await page.evaluate(async () => {
    const slider = document.querySelector<HTMLInputElement>(".mass-range")!;
    const took: number[] = [];
    for (let i = 1; i <= 20; i++) {
      const was = performance.now();
      slider.value = String(i % 9 + 1); slider.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((d) => requestAnimationFrame(() => setTimeout(d)));
      took.push(Math.round(performance.now() - was));
      await new Promise((d) => setTimeout(d, 60));
    }
    return took;
  });
  console.log("drag to frame", JSON.stringify(drags), JSON.stringify(await page.evaluate(() => (window as any).tasks)));
});
