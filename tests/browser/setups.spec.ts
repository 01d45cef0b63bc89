import { expect, test } from "./fixtures";
import { choose, goTo, kept, open, press, type, unfold } from "./act";
import { demo, first, second } from "./demo";
import { button, field, figure, list, note } from "./find";
import { settled, number, sound } from "./see";

test("two setups: switching shows each one's own figures and is kept", async ({ page }) => {
    await open(page, "card");
    await expect(list(page, "Setup")).toHaveValue(first.id);
    const mass = await number(page, "all-up-mass");
    await settled(page);
    const landBy = await number(page, "land-by");
    await choose(page, "Setup", second.name);
    await expect.poll(() => number(page, "all-up-mass")).not.toBe(mass);
    await kept(page, `"selected":"${second.id}"`);
    await page.reload();
    await expect(list(page, "Setup")).toHaveValue(second.id);
    await choose(page, "Setup", first.name);
    await expect.poll(() => number(page, "all-up-mass")).toBe(mass);
    await expect.poll(() => number(page, "land-by")).toBe(landBy);
});

test("a setup from scratch says what is still to be chosen, then flies", async ({ page }) => {
    await open(page, "build");
    await press(page, "New setup");
    await goTo(page, "Card");
    await expect(note(page, "problem")).toContainText("Still to be chosen");
    await expect(figure(page, "land-by")).toHaveCount(0);
    await press(page, "Go to the field");
    await choose(page, "Airframe of this setup", demo.airframes[0]!.name);
    await unfold(page, "Packs and meter");
    await press(page, "Add a string in parallel");
    const packs = demo.pack_types.filter((pack) => pack.cells_in_series === demo.pack_types[0]!.cells_in_series);
    await choose(page, "String 1, pack 1", packs[0]!.name);
    await press(page, "Add a pack in series to string 1");
    await goTo(page, "Site");
    await choose(page, "Site of this setup", demo.sites[0]!.name);
    await goTo(page, "Card");
    await expect(note(page, "problem")).toHaveCount(0);
    await expect(figure(page, "all-up-mass")).toHaveText(/\d/);
    await sound(page);
});

test("a setup is copied, renamed, deleted and brought back", async ({ page }) => {
    await open(page, "build");
    await press(page, "Copy");
    const name = field(page, "Name of this setup");
    await choose(page, "Setup", `${first.name} (copy)`);
    await type(page, "Name of this setup", "Night shoot");
    await kept(page, "Night shoot");
    await press(page, "Delete");
    await expect(list(page, "Setup").getByRole("option", { name: "Night shoot" })).toHaveCount(0);
    await button(page, "Undo").first().click();
    await expect(list(page, "Setup").getByRole("option", { name: "Night shoot" })).toHaveCount(1);
    await expect(name).toHaveValue("Night shoot");
    await page.reload();
    await kept(page, "Night shoot");
});
