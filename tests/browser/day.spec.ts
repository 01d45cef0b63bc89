import { readFile } from "node:fs/promises";
import ICAL from "ical.js";
import { expect, seeReadyForOffline, test } from "./fixtures";
import { choose, kept, open, press, type } from "./act";
import { first } from "./demo";
import { figure } from "./find";
import { sound } from "./see";

/** A day of six flights of the demo's first setup. */
async function sixFlights(page: import("@playwright/test").Page): Promise<void> {
    await open(page, "day");
    await press(page, "New day");
    await press(page, "Add flights");
    await choose(page, "Flights 1", first.name);
    for (let more = 1; more < 6; more++) await press(page, "How many, line 1: one more");
    await expect(figure(page, "flights-done")).toHaveText("0 of 6");
}

test("a day by touch, offline: sets and chargers are counted until nobody waits", async ({ page, context }) => {
    await open(page, "card");
    await seeReadyForOffline(page);
    await context.setOffline(true);
    await sixFlights(page);
    const more = page.getByRole("button", { name: /^Sets: .*one more$/ });
    await more.click();
    await expect(figure(page, "first-stall")).toContainText(/^From \d\d:\d\d waiting/);
    const done = async () => Number(/^(\d+) of 6/.exec((await figure(page, "flights-done").textContent()) ?? "")?.[1]);
    let before = await done();
    for (let sets = 2; sets <= 6; sets++) {
        await more.click();
        await expect(page.locator(".stepper-value").first()).toHaveText(String(sets));
        expect(await done()).toBeGreaterThanOrEqual(before);
        before = await done();
    }
    await expect(figure(page, "flights-done")).toHaveText("6 of 6");
    await expect(figure(page, "first-stall")).toHaveText("Nobody waits for packs.");
    // Touch to read.
    const slider = page.getByRole("slider", { name: "Moment of the day" });
    await slider.fill("1");
    await expect(figure(page, "moment")).toContainText(/^08:\d\d · .*flight 1 with/);
    await sound(page);
    await kept(page, "turn_round_min");
    await page.reload();
    await expect(figure(page, "flights-done")).toHaveText("6 of 6");
});

test("the calendar file is read back by another program", async ({ page }) => {
    await sixFlights(page);
    const more = page.getByRole("button", { name: /^Sets: .*one more$/ });
    for (let sets = 0; sets < 6; sets++) await more.click();
    await expect(figure(page, "flights-done")).toHaveText("6 of 6");
    await type(page, "Date (2026-04-30)", "2026-11-30");
    const download = page.waitForEvent("download");
    await press(page, "To the calendar");
    const file = await download;
    expect(file.suggestedFilename()).toBe("day.ics");
    const calendar = new ICAL.Component(ICAL.parse(await readFile(await file.path(), "utf8")));
    const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
    expect(events).toHaveLength(6);
    expect(events[0]!.startDate.toString()).toBe("2026-11-30T08:00:00");
    expect(events[0]!.summary).toBe(`Flight 1: ${first.name}`);
    for (const [index, event] of events.entries()) {
        expect(event.endDate.compare(event.startDate)).toBe(1);
        if (index > 0) expect(event.startDate.compare(events[index - 1]!.endDate)).toBe(1);
    }
});

test("a day on paper: rows and drawing, no buttons", async ({ page }) => {
    await sixFlights(page);
    await page.emulateMedia({ media: "print" });
    await expect(page.getByRole("button", { name: "New day" })).toBeHidden();
    await expect(figure(page, "flights-done")).toBeVisible();
    await expect(page.locator(".day-drawing")).toBeVisible();
});
