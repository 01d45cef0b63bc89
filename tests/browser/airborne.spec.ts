// The flight itself, without a network and with a clock that the test moves: what it shows follows from stamps alone.
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures";
import { choose, jump, open, press, unfold } from "./act";
import { heavierLens, lens } from "./demo";
import { button, field, figure, list, screen } from "./find";
import { number, settled, sound, toNumber, toSeconds } from "./see";
import { forget, profile, start } from "./endure/browser";
import type { Page } from "@playwright/test";

const START = new Date("2026-11-26T09:00:00Z");

/** From the card into the air. */
async function liftOff(page: Page): Promise<void> {
    await page.clock.install({ time: START });
    await open(page, "card");
    await settled(page);
    await page.getByRole("link", { name: "Airborne", exact: true }).click();
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
}

/** Seconds of "12:34". */
async function aloft(page: Page): Promise<number> {
    const [minutes, seconds] = ((await figure(page, "airborne-time").textContent()) ?? "").split(":").map(Number);
    return 60 * minutes + seconds;
}

/** What stands below a mark: "in 5 min 20 s". */
const below = (page: Page, name: string) => page.locator(".answer").filter({ has: figure(page, name) }).locator(".answer-sub");

/** Types a reading on the keypad. */
async function typeReading(page: Page, digits: string): Promise<void> {
    for (const digit of digits) await press(page.locator(".keypad"), digit);
    await press(page, "Take");
}

/** What the meter should show by the app. */
async function expected(page: Page): Promise<number> {
    return toNumber((await page.getByText("the meter should show about").textContent()) ?? "");
}

test("a flight goes on from its stamps when the page was gone, due alarms first", async ({ page, context, host }) => {
    test.slow();
    await page.clock.install({ time: START });
    await open(page, "card");
    await seeReadyForOffline(page);
    await settled(page);
    const landBy = await number(page, "land-by");
    const turnBack = await number(page, "turn-back");
    await loseNetwork(page, host);
    await page.getByRole("link", { name: "Airborne", exact: true }).click();
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
    expect(await number(page, "airborne-land-by")).toBeLessThanOrEqual(landBy);
    expect(await number(page, "airborne-turn-back")).toBeLessThanOrEqual(turnBack);
    const left = toSeconds((await below(page, "airborne-turn-back").textContent()) ?? "");
    await page.waitForTimeout(1500);
    await page.close();
    await context.clock.fastForward("08:00");
    const again = await context.newPage();
    await again.goto("#/card");
    // Wherever it opens, it opens in the flight.
    await expect(screen(again, "airborne")).toBeVisible({ timeout: 60_000 });
    await expect(figure(again, "airborne-time")).toHaveText(/^8:/);
    const gone = await aloft(again);
    await jump(again, 1000 * Math.max(1, left - gone + 15));
    const alarm = again.locator("[data-alarm]");
    await expect(alarm).toHaveAttribute("data-alarm", "turn-back");
    await alarm.click();
    await expect(alarm).toHaveCount(0);
    // Touched, it stays silent after another reload; the next one comes by itself.
    await again.waitForTimeout(1000);
    await again.reload();
    await expect(figure(again, "airborne-time")).toHaveText(/\d:\d\d/);
    await expect(alarm).toHaveCount(0);
    const down = toSeconds((await below(again, "airborne-land-by").textContent()) ?? "");
    await jump(again, 1000 * (down + 15));
    await expect(alarm).toHaveAttribute("data-alarm", "land-by");
});

test("a wrong digit is asked back, a reading moves the projection, landing makes an entry, the next card says so", async ({ page }) => {
    test.slow();
    await liftOff(page);
    await jump(page, "02:00");
    await expect(figure(page, "airborne-time")).toHaveText(/^2:/);
    await expect(figure(page, "airborne-projection")).toContainText("no reading yet");
    const before = await number(page, "airborne-turn-back");
    const shown = Math.round((1.15 * (await expected(page))) / 10) * 10;
    await press(page, "Read the meter");
    await typeReading(page, String(10 * shown));
    await expect(page.locator("[data-doubt]")).toBeVisible();
    await expect(figure(page, "airborne-projection")).toContainText("no reading yet");
    await press(page, "Type it again");
    await typeReading(page, String(shown));
    await expect(figure(page, "airborne-projection")).toContainText(/more than planned, down .* sooner \(by 1 reading\)/);
    expect(await number(page, "airborne-turn-back")).toBeLessThan(before);
    // What it comes to is in view, not the place where the keypad was.
    await expect(figure(page, "airborne-time")).toBeInViewport();
    await expect(figure(page, "airborne-turn-back")).toBeInViewport();
    await sound(page);
    // Nothing leads out of the flight by accident.
    await page.goto("#/build");
    await expect(screen(page, "airborne")).toBeVisible();
    await expect(page.getByRole("navigation")).toHaveCount(0);
    await jump(page, "03:00");
    const used = Math.round(1.0 * (await expected(page)));
    await press(page, "Landed");
    await field(page, "Meter on board").fill(String(used));
    await press(page, "Write the entry");
    await expect(screen(page, "log")).toBeVisible();
    const entry = page.locator("[data-entry]");
    await expect(entry).toHaveCount(1);
    await expect(entry).toContainText("predicted");
    await expect(figure(page, "log-coverage")).toContainText("of 1 flight");
    await open(page, "card");
    await settled(page);
    await expect(figure(page, "corrected")).toContainText(/Corrected by 1 flight: \+\d+ % power \(±\d+ %\)/);
    const corrected = await number(page, "land-by");
    const minutes = toSeconds((await figure(page, "flight-time").textContent()) ?? "");
    await page.getByRole("switch", { name: /Corrected by/ }).click();
    await settled(page);
    await expect(figure(page, "corrected")).toContainText("Switched off");
    expect(await number(page, "land-by")).toBeGreaterThan(0);
    expect(corrected).toBeGreaterThan(0);
    expect(toSeconds((await figure(page, "flight-time").textContent()) ?? "")).not.toBe(minutes);
});

test("in the air nothing that changes the setup is within reach", async ({ page }) => {
    await page.clock.install({ time: START });
    await open(page, "card");
    await settled(page);
    await unfold(page, "What if");
    await choose(page, lens.name, `swap for ${heavierLens.name}`);
    await expect(page.locator('[data-band="what-if"]')).toBeVisible();
    await page.getByRole("link", { name: "Airborne", exact: true }).click();
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
    await expect(page.locator('[data-band="what-if"]')).toHaveCount(0);
    await expect(page.getByRole("navigation")).toHaveCount(0);
    for (const address of ["#/build", "#/settings", "#/card"]) {
        await page.goto(address);
        await expect(screen(page, "airborne")).toBeVisible();
    }
});

test("leaving the flight takes two touches, a band leads back", async ({ page }) => {
    await liftOff(page);
    await press(page, "Leave this view…");
    await press(page, "Leave it all the same");
    await expect(screen(page, "airborne")).toHaveCount(1);
    await page.goto("#/site");
    await expect(screen(page, "site")).toBeVisible();
    await page.locator('[data-band="flight"]').click();
    await expect(figure(page, "airborne-time")).toBeVisible();
});

test("an alarm that falls due on another screen shows there and leads back", async ({ page }) => {
    await liftOff(page);
    await press(page, "Leave this view…");
    await press(page, "Leave it all the same");
    await page.goto("#/site");
    await expect(screen(page, "site")).toBeVisible();
    const alarm = page.locator("[data-alarm]");
    await expect(page.locator('[data-band="flight"]')).toBeVisible();
    await expect(alarm).toHaveCount(0);
    await jump(page, "40:00");
    await expect(alarm).toHaveAttribute("data-alarm", "land-by");
    await alarm.click();
    await expect(figure(page, "airborne-time")).toBeVisible();
    // Only there is it silenced.
    await expect(alarm).toHaveCount(1);
    await alarm.click();
    await expect(alarm).toHaveCount(0);
});

test("an entry is deleted and comes back, a recording makes one", async ({ page }) => {
    test.slow();
    await open(page, "log");
    const rows = ["Time (s),Voltage (V),Current (A)"];
    for (let second = 0; second <= 300; second++) rows.push(`${second},${(49 - second / 100).toFixed(2)},${90 + (second % 5)}`);
    await page.locator('input[type="file"][accept*=".csv"]').setInputFiles({ name: "flight.csv", mimeType: "text/csv", buffer: Buffer.from(rows.join("\n")) });
    await expect(figure(page, "recording")).toContainText("301");
    await press(page, "Make an entry of it");
    const entry = page.locator("[data-entry]");
    await expect(entry).toHaveCount(1);
    await entry.locator("summary").click();
    await press(entry, "Delete this flight");
    await expect(entry).toHaveCount(0);
    await button(page, "Undo").click();
    await expect(entry).toHaveCount(1);
    await sound(page);
});

test("a wind that leaves no way home calls to turn back at once", async ({ page }) => {
    await liftOff(page);
    const alarm = page.locator("[data-alarm]");
    await expect(alarm).toHaveCount(0);
    await unfold(page, "Elsewhere, or another wind");
    await field(page, "Mean wind").fill("100");
    await expect(alarm).toHaveAttribute("data-alarm", "turn-back");
    await expect(page.getByText("No way home against this wind")).toBeVisible();
    await alarm.click();
    await expect(alarm).toHaveCount(0);
});

/** Counts every tone that is asked of the browser. */
const countTones = () => {
    const create = BaseAudioContext.prototype.createOscillator;
    BaseAudioContext.prototype.createOscillator = function () {
        const counted = window as unknown as { tones?: number };
        counted.tones = (counted.tones ?? 0) + 1;
        return create.call(this);
    };
};
const tones = (page: Page) => page.evaluate(() => (window as unknown as { tones?: number }).tones ?? 0);

test("killed with motors turning and opened eight minutes later without a network: the clock is right, the alarm sounds", async ({ host }) => {
    test.setTimeout(240_000);
    const folder = await profile();
    const one = await start(folder);
    await one.page.clock.install({ time: START });
    await one.page.goto(`${host.url}#/card`);
    await seeReadyForOffline(one.page);
    await settled(one.page);
    await one.page.getByRole("link", { name: "Airborne", exact: true }).click();
    await press(screen(one.page, "airborne"), "Lift off");
    await expect(figure(one.page, "airborne-time")).toHaveText(/^0:\d\d$/);
    const landBy = await number(one.page, "airborne-land-by");
    const left = toSeconds((await below(one.page, "airborne-turn-back").textContent()) ?? "");
    await one.page.waitForTimeout(1000);
    await one.kill();
    await host.stop();
    const two = await start(folder);
    // Eight minutes after the start, or a little after turning back is due.
    const gone = Math.max(480, left + 20);
    await two.page.addInitScript(countTones);
    await two.page.clock.install({ time: new Date(START.getTime() + 1000 * gone) });
    await two.page.goto(`${host.url}#/card`);
    await expect(screen(two.page, "airborne")).toBeVisible({ timeout: 60_000 });
    await expect.poll(() => aloft(two.page)).toBeGreaterThanOrEqual(gone - 10);
    expect(await aloft(two.page)).toBeLessThan(gone + 60);
    expect(await number(two.page, "airborne-land-by")).toBe(landBy);
    const alarm = two.page.locator("[data-alarm]");
    await expect(alarm).toBeVisible();
    expect(["turn-back", "before-land-by", "land-by"]).toContain(await alarm.getAttribute("data-alarm"));
    // A touch anywhere, not on the alarm, is enough to hear it again and again.
    await figure(two.page, "airborne-time").click();
    await expect(two.page.locator('[data-note="silent"]')).toHaveCount(0, { timeout: 20_000 });
    const before = await tones(two.page);
    await expect.poll(() => tones(two.page), { timeout: 20_000 }).toBeGreaterThan(before + 2);
    await alarm.click();
    await expect(alarm).toHaveCount(0);
    await two.kill();
    await forget(folder);
});

test("flying on with the same packs: the meter runs on, the figures start from what is left", async ({ page }) => {
    test.slow();
    await liftOff(page);
    const fresh = await number(page, "airborne-land-by");
    await jump(page, "02:00");
    await expect(figure(page, "airborne-time")).toHaveText(/^2:/);
    const used = await expected(page);
    await press(page, "Landed");
    await field(page, "Meter on board").fill(String(used));
    await press(page, "Write the entry");
    await expect(screen(page, "log")).toBeVisible();
    await open(page, "card");
    await settled(page);
    await page.getByRole("link", { name: "Airborne", exact: true }).click();
    await list(page, "Packs").selectOption({ label: "Flying on with the same, meter runs on" });
    await expect(field(page, "Meter on board")).not.toHaveValue("");
    await expect(field(page, /Rest voltage/)).toHaveValue(/[34][.,]\d/);
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
    expect(await expected(page)).toBeGreaterThanOrEqual(used - 50);
    // By the meter that ran on it is down where it would have been, by what a second climb and warm-up cost.
    const on = await number(page, "airborne-land-by");
    expect(Math.abs(on - fresh)).toBeLessThan(0.1 * fresh);
    // A flight whose meter nobody read is known by its time.
    await jump(page, "01:00");
    await expect(figure(page, "airborne-time")).toHaveText(/^1:/);
    await press(page, "Landed");
    await press(page, "Write the entry");
    await expect(screen(page, "log")).toBeVisible();
    await open(page, "airborne");
    await list(page, "Packs").selectOption({ label: "Flying on with the same, meter reset" });
    const rest = field(page, /Rest voltage/);
    await expect(rest).toHaveValue(/[34][.,]\d/);
    // Without it nothing tells what is left: no figures of full packs.
    const known = await rest.inputValue();
    await rest.fill("");
    await press(screen(page, "airborne"), "Lift off");
    await expect(page.getByText("Enter the rest voltage of a cell")).toBeVisible();
    await rest.fill(known);
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
    expect(await number(page, "airborne-land-by")).toBeLessThan(fresh - used);
});

test("a voltage that the model cannot explain is an alarm of its own; a wrong digit at landing is asked back", async ({ page }) => {
    test.slow();
    await liftOff(page);
    await jump(page, "02:00");
    await expect(figure(page, "airborne-time")).toHaveText(/^2:/);
    const used = await expected(page);
    await press(page, "Read the meter");
    for (const digit of String(used)) await press(page.locator(".keypad"), digit);
    await press(page, "Volts too");
    for (const digit of "43.5") await press(page.locator(".keypad"), digit);
    await press(page, "Take");
    const alarm = page.locator("[data-alarm]");
    await expect(alarm).toHaveAttribute("data-alarm", "weak-packs");
    await expect(alarm).toContainText("come home");
    await alarm.click();
    await expect(alarm).toHaveCount(0);
    await press(page, "Landed");
    await field(page, "Meter on board").fill(String(10 * used));
    await press(page, "Write the entry");
    await expect(page.locator("[data-doubt]")).toBeVisible();
    await expect(screen(page, "airborne")).toBeVisible();
    await press(page, "Type it again");
    await field(page, "Meter on board").fill(String(used + 50));
    await press(page, "Write the entry");
    await expect(screen(page, "log")).toBeVisible();
});

test("the list before lift-off is the crew's own, sound and light are tried in one touch", async ({ page }) => {
    await page.addInitScript(countTones);
    await open(page, "airborne");
    await press(page, "Edit the list");
    await page.getByRole("textbox", { name: "One line each" }).fill("Props tight\nCard in");
    await press(page, "Done with the list");
    const ticks = page.locator(".ticks input");
    await expect(ticks).toHaveCount(2);
    await expect(page.getByText("Props tight")).toBeVisible();
    await ticks.first().check();
    await expect(ticks.last()).not.toBeChecked();
    await press(page, "Tick all");
    await expect(ticks.last()).toBeChecked();
    await press(page, "Test sound and light");
    await expect.poll(() => tones(page)).toBeGreaterThan(1);
    await expect(page.getByText("You should hear two tones")).toBeVisible();
});
