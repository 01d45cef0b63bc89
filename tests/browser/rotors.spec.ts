// A rotor stopped by touch, a slide to balance, a sweep over a range, and what stands beside the card.
import { expect, test } from "./fixtures";
import { choose, open, type, unfold } from "./act";
import { figure, list } from "./find";
import { demo, lens } from "./demo";

/** The demo's last setup flies the flat quad. */
const flat = demo.setups.at(-1)!;

test("a rotor is stopped by touch, and told in a sentence", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Rotors and balance");
    const words = figure(page, "rotor-out");
    await expect(words).toContainText("All rotors at work");
    // The disc is half a circle: touched where it is, not at the middle of its frame.
    const disc = page.locator('[data-rotor="2"] .rotor-words');
    await disc.tap();
    await expect(words).toContainText("Rotor 3 stopped: holds level and heading");
    await expect(words).toContainText("of thrust-to-weight");
    await expect(page.locator('[data-rotor="2"]')).toContainText("out");
    await expect(list(page, "Rotor stopped (or touch it)")).toHaveValue("2");
    await disc.tap();
    await expect(words).toContainText("All rotors at work");
});

test("a flat quad cannot hold level with a rotor stopped", async ({ page }) => {
    await open(page, "build");
    await choose(page, "Setup", flat.name);
    await unfold(page, "Rotors and balance");
    await choose(page, "Rotor stopped (or touch it)", "rotor 1");
    await expect(figure(page, "rotor-out")).toHaveAttribute("data-capability", "cannot-hold-level");
    await expect(figure(page, "rotor-out")).toContainText("it cannot hold level");
});

test("slide to balance follows what is moved off centre", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Rotors and balance");
    const slide = figure(page, "slide");
    const before = await slide.textContent();
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await row.getByRole("button", { name: lens.name }).click();
    await type(row, /forward$/, "400");
    await expect(slide).not.toHaveText(before ?? "");
    await expect(slide).toContainText("backward");
    await choose(page, "Slide this to balance", "all packs together");
    await expect(slide).toContainText(/Slide it|cannot be balanced/);
});

test("a sweep marks the present and names the limit that is crossed", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Over a range");
    for (const axis of ["Payload mass", "Elevation", "Temperature of air and packs", "Strings in parallel", "Capacity of each pack"]) {
        await choose(page, "Vary", axis);
        const plot = page.locator("figure.plot", { hasText: axis });
        await expect(plot).toContainText("now");
        // Minutes and margin cautious beside typical, and the current.
        await expect(plot.locator("polyline")).toHaveCount(5);
    }
    await choose(page, "Vary", "Payload mass");
    await expect(figure(page, "sweep-limits")).toContainText(/Above \d+[.]\d+.kg it says no: /);
});

test("beside the card: every meter, turning back from elsewhere, a lost string, the doubt", async ({ page }) => {
    await open(page, "card");
    const table = figure(page, "turn-back-table");
    await expect(table.getByRole("row")).toHaveCount(6);
    await expect(table).toContainText("mAh");
    await expect(page.getByRole("row", { name: /for all packs \(on board\)/ })).toContainText(/\d.*typical.*\d/);
    await expect(figure(page, "strings-lost").getByRole("listitem")).toHaveCount(3);
    await expect(figure(page, "doubt").getByRole("listitem").first()).toContainText("%");
    const plot = page.locator("figure.plot").first();
    const lines = await plot.locator("polyline").count();
    await page.getByText("Show a string lost when turning back").tap();
    await expect.poll(() => plot.locator("polyline").count()).toBeGreaterThan(lines);
    await plot.getByRole("slider").fill("100");
    await expect(plot.locator(".plot-reading")).toContainText("V");
});

test("cold packs are told to be warmed", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Packs and meter");
    await type(page, "Pack temperature", "-5");
    await page.getByRole("navigation").getByRole("link", { name: "Card", exact: true }).click();
    await expect(figure(page, "warming")).toContainText("warmed to 25");
});
