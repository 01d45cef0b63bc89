// A setup from one phone to another, without a network.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Page } from "@playwright/test";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures.ts";
import { choose, goTo, open, press, type, unfold } from "./act";
import { crewFile, takeInFile, takeInNews } from "./crew";
import { demo, first } from "./demo";
import { figure, list, screen } from "./find";
import { settled } from "./see";

// Decoders by other hands than the encoder's. They are CommonJS.
const require = createRequire(import.meta.url);
const jsqr = require("jsqr") as (data: Uint8ClampedArray, width: number, height: number) => { data: string } | null;
const { PNG } = require("pngjs") as { PNG: { sync: { read(file: Buffer): { data: Buffer; width: number; height: number } } } };

const FIGURES = ["land-by", "turn-back", "flight-time", "thrust-to-weight", "all-up-mass", "greatest-wind"];

async function figures(page: Page): Promise<(string | null)[]> {
    await goTo(page, "Card");
    await settled(page);
    await expect(figure(page, "greatest-wind")).toBeVisible();
    return Promise.all(FIGURES.map((name) => figure(page, name).textContent()));
}

async function linkOf(page: Page): Promise<string> {
    await goTo(page, "Card");
    await unfold(page, "Share this setup");
    await expect(figure(page, "link")).toHaveValue(/#\/take\/1/);
    return figure(page, "link").inputValue();
}

test("a setup goes from one phone to another as a link, offline, figures and all", async ({ page, host, browser }) => {
    await page.goto("");
    await seeReadyForOffline(page);
    const other = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const pilot = await other.newPage();
    await pilot.goto(host.url);
    await seeReadyForOffline(pilot);
    await takeInNews(page, crewFile(1));
    await goTo(page, "Card");
    await choose(page, "Setup", "Shot 1");
    const link = await linkOf(page);
    await expect(figure(page, "share-holds")).toContainText("1 setup, 1 site, 5 items, 1 pack type, 1 airframe");
    await expect(figure(page, "share-length")).toContainText(`${link.length} letters`);
    const mine = await figures(page);
    await other.setOffline(true);
    await loseNetwork(page, host);
    await pilot.goto(link);
    await expect(screen(pilot, "take")).toBeVisible();
    await expect(figure(pilot, "standing")).toContainText("9 new");
    await press(pilot, "Take in");
    await expect(screen(pilot, "card")).toBeVisible();
    await expect(list(pilot, "Setup")).toHaveValue("own-0");
    expect(await figures(pilot)).toEqual(mine);
    // One step takes all of it back.
    await press(pilot, "Undo");
    await expect(list(pilot, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
    await other.close();
});

test("the panel stays open when another setup is chosen, and shows that one's link", async ({ page }) => {
    await open(page, "card");
    const link = await linkOf(page);
    const other = demo.setups.find((setup) => setup.name !== first.name);
    await choose(page, "Setup", other?.name ?? "");
    await settled(page);
    await expect(figure(page, "link")).not.toHaveValue(link);
    await expect(figure(page, "link")).toHaveValue(/#\/take\/1/);
});

test("the code on the screen, photographed, is the link", async ({ page }) => {
    await open(page, "card");
    const link = await linkOf(page);
    await press(page, "Show as a code");
    const code = page.locator('svg[data-figure="qr"]');
    await code.scrollIntoViewIfNeeded();
    for (const colorScheme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme });
        await code.scrollIntoViewIfNeeded();
        const picture = PNG.sync.read(await page.screenshot());
        const read = jsqr(new Uint8ClampedArray(picture.data), picture.width, picture.height);
        expect(read?.data).toBe(link);
    }
    await page.goto(link);
    await expect(figure(page, "standing")).toContainText("here already, word for word");
});

test("what differs is shown field by field, and the crew chooses", async ({ page }) => {
    await open(page, "site");
    const site = demo.sites.find((there) => there.id === (first as unknown as { site: string }).site)?.name ?? "";
    await goTo(page, "Card");
    await settled(page);
    const before = await figure(page, "land-by").textContent();
    const link = await linkOf(page);
    await goTo(page, "Site");
    await type(page, "Mean wind", "25");
    await goTo(page, "Card");
    // Until the wind has reached the figure it is settled already, at the one before.
    await expect(figure(page, "land-by")).not.toHaveText(before ?? "");
    await settled(page);
    const windy = await figure(page, "land-by").textContent();
    expect(windy).not.toBe(before);

    const choice = page.locator("[data-differs]");
    const look = async (): Promise<void> => {
        await page.goto(link);
        await expect(screen(page, "take")).toBeVisible();
        await expect(choice).toHaveCount(1);
        await expect(choice).toContainText(site);
        await expect(choice.getByRole("row", { name: /Mean wind/ })).toContainText(/25.km\/h.*18.km\/h/);
    };
    await look();
    await choice.getByRole("radio", { name: "Keep mine" }).check();
    await press(page, "Take in");
    await settled(page);
    await expect(figure(page, "land-by")).toHaveText(windy ?? "");

    await look();
    await choice.getByRole("radio", { name: "Take theirs" }).check();
    await press(page, "Take in");
    await settled(page);
    await expect(figure(page, "land-by")).toHaveText(before ?? "");
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
    await press(page, "Undo");
    await settled(page);
    await expect(figure(page, "land-by")).toHaveText(windy ?? "");

    await look();
    await choice.getByRole("radio", { name: "Keep both" }).check();
    await press(page, "Take in");
    // Theirs stands beside it as a setup of its own, with their weather.
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length + 1);
    await settled(page);
    await expect(figure(page, "land-by")).toHaveText(before ?? "");
    await choose(page, "Setup", first.name);
});

test("a file with differences waits for the choice", async ({ page }) => {
    await open(page, "card");
    const changed = JSON.parse(JSON.stringify(demo)) as { items: { mass_kg: number }[] };
    for (const item of changed.items.slice(0, 2)) item.mass_kg += 0.5;
    await takeInFile(page, JSON.stringify(changed));
    await expect(page.locator("[data-differs]")).toHaveCount(2);
    await press(page, "Leave it");
    await expect(page.getByText("Left: your data is unchanged.")).toBeVisible();
    await takeInFile(page, JSON.stringify(changed));
    await press(page, "All: take theirs");
    await press(page, "Take in");
    await expect(page.getByText(/2 in the place of yours/).first()).toBeVisible();
});

test("a link that is not whole is refused in words and changes nothing", async ({ page }) => {
    await open(page, "card");
    const link = await linkOf(page);
    for (const [harmed, words] of [
        [link.slice(0, -9), "not whole"],
        [link.replace("/take/1", "/take/7"), "later version"],
        [`${link.split("#")[0]}#/take/`, "holds no setup"],
    ] as const) {
        await page.goto(harmed);
        await expect(page.getByRole("alert")).toContainText(words);
        await expect(page.getByRole("alert")).toContainText("Nothing was changed");
    }
    await goTo(page, "Card");
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
});

test("a setup is handed to the phone's own sharing from the sheet", async ({ page }) => {
    await page.addInitScript(() => {
        const shared: unknown[] = [];
        Object.assign(window, { shared });
        Object.defineProperty(navigator, "share", { configurable: true, value: (data: unknown) => (shared.push(data), Promise.resolve()) });
    });
    await open(page, "sheet");
    await choose(page, "Setup", first.name);
    await unfold(page, "Share this setup");
    await expect(figure(page, "link")).toHaveValue(/#\/take\/1/);
    await press(page, "Send the link");
    const shared = await page.evaluate(() => (window as unknown as { shared: { title: string; url: string }[] }).shared);
    expect(shared).toEqual([{ title: first.name, url: await figure(page, "link").inputValue() }]);
});

test("a link that was answered is not asked again", async ({ page }) => {
    await page.goto("");
    const link = await linkOf(page);
    await page.goto(link);
    await expect(screen(page, "take")).toBeVisible();
    await press(page, "Leave it");
    await expect(screen(page, "card")).toBeVisible();
    expect(page.url()).toMatch(/#\/card$/);
    await page.goBack();
    await expect(screen(page, "take")).toHaveCount(0);
});

test("a setup that is too much for a code says so and goes as a file", async ({ page }) => {
    const file = JSON.parse(crewFile(1)) as { setups: { name: string }[]; items: { name: string }[] };
    // Digits that no packing makes shorter.
    const digits = (seed: number) => Array.from({ length: 60 }, (_, at) => String(((at + 1) * seed * 7919) % 99_991)).join("");
    file.items.forEach((item, at) => (item.name = digits(at + 3)));
    await open(page, "card");
    await takeInNews(page, JSON.stringify(file));
    await goTo(page, "Card");
    await choose(page, "Setup", "Shot 1");
    await linkOf(page);
    await press(page, "Show as a code");
    await expect(figure(page, "qr")).toContainText(/With \d+ letters this setup is too much for a code .* share the file or the link/);
    const [download] = await Promise.all([page.waitForEvent("download"), press(page, "Save as a file")]);
    const saved = JSON.parse(await readFile(await download.path(), "utf8")) as typeof file;
    expect(saved.setups.map((setup) => setup.name)).toEqual(["Shot 1"]);
    // Another phone takes that file in.
    const other = await page.context().browser()!.newContext();
    const pilot = await other.newPage();
    await pilot.goto(page.url().split("#")[0]!);
    await takeInNews(pilot, JSON.stringify(saved));
    await goTo(pilot, "Card");
    await choose(pilot, "Setup", "Shot 1");
    expect(await figures(pilot)).toEqual(await figures(page));
    await other.close();
});
