import { existsSync, readFileSync, readdirSync } from "node:fs";
import { expect, test } from "./fixtures";
import { choose, kept, open, press, type, unfold } from "./act";
import { button, figure, field } from "./find";

// The demo's own table, as a maker would hand it over.
const GOOD = readFileSync(new URL("../../demo-data/bench-eight.csv", import.meta.url), "utf8");
const ROWS = GOOD.trim().split("\n").length - 1;

async function table(page: import("@playwright/test").Page): Promise<void> {
    await open(page, "build");
    await unfold(page, "Airframe");
}

test("a good table is opened, fitted, and the error stands in percent", async ({ page }) => {
    await table(page);
    await page.getByLabel("Open a table (CSV)").setInputFiles({ name: "stand.csv", mimeType: "text/csv", buffer: Buffer.from(GOOD) });
    await press(page, "Use this table");
    await kept(page, '"name":"stand.csv"');
    await expect(figure(page, "fit")).toContainText(new RegExp(`${ROWS} rows.*%`));
});

test("semicolons and decimal commas are understood", async ({ page }) => {
    await table(page);
    const comma = GOOD.replaceAll(",", ";").replaceAll(".", ",");
    await field(page, "Or paste it here").fill(comma);
    await press(page, "Use this table");
    await kept(page, '"voltage_v":49.76');
});

test("unknown titles are chosen by hand", async ({ page }) => {
    await table(page);
    const lines = GOOD.trim().split("\n");
    await field(page, "Or paste it here").fill(["p;q;r;s;t", ...lines.slice(1).map((line) => line.replaceAll(",", ";"))].join("\n"));
    await expect(button(page, "Use this table")).toBeDisabled();
    for (const [title, role] of [["s", "thrust, grams"], ["q", "volts"], ["r", "amperes"], ["p", "throttle, %"], ["t", "rotor rpm"]]) {
        await choose(page, `What stands in \u201c${title}\u201d`, role!);
    }
    await press(page, "Use this table");
    await kept(page, '"name":"Pasted table"');
});

test("a bad table names the row, and the old one stays", async ({ page }) => {
    await table(page);
    const before = await figure(page, "fit").textContent();
    await field(page, "Or paste it here").fill(GOOD.replace("10.69", "much"));
    await expect(page.getByRole("alert").filter({ hasText: "row 3" })).toContainText("much");
    await expect(button(page, "Use this table")).toBeDisabled();
    await press(page, "Leave it");
    expect(await figure(page, "fit").textContent()).toBe(before);
});

// As makers print them: each file pasted gives as many rows as are expected, or the words of its refusal.
const FOLDER = new URL("../../demo-data/bench-tables/", import.meta.url);
const TABLES = readdirSync(FOLDER).filter((name) => name.endsWith(".txt") && !name.endsWith(".refused.txt")).sort();

test("tables as makers print them, pasted one after the other", async ({ page }) => {
    test.setTimeout(180_000);
    expect(TABLES.length).toBeGreaterThanOrEqual(24);
    await table(page);
    for (const name of TABLES) {
        await test.step(name, async () => {
            const read = (ending: string): string => readFileSync(new URL(name.replace(/txt$/, ending), FOLDER), "utf8");
            const taken = page.getByRole("region", { name: "The table", exact: true });
            await field(page, "Or paste it here").fill(readFileSync(new URL(name, FOLDER), "utf8"));
            if (existsSync(new URL(name.replace(/txt$/, "refused.txt"), FOLDER))) {
                const words = read("refused.txt").trim().toLowerCase();
                await expect.poll(async () => (await taken.getByRole("alert").textContent())?.toLowerCase()).toContain(words);
                await expect(button(page, "Use this table")).toBeDisabled();
            } else {
                const rows = read("expected.csv").trim().split("\n").length - 1;
                await expect(taken.getByRole("status")).toContainText(`${rows} rows`);
                await expect(button(page, "Use this table")).toBeEnabled();
            }
            await press(page, "Leave it");
        });
    }
});

test("one of two rotors is chosen, another rotor than the aircraft's is told, and one touch settles it", async ({ page }) => {
    await table(page);
    await field(page, "Or paste it here").fill(readFileSync(new URL("14-two-rotors-in-one-table.txt", FOLDER), "utf8"));
    await page.getByRole("combobox", { name: "Which of the tables", exact: true }).selectOption({ index: 2 });
    await press(page, "Use this table");
    await expect(page.locator('[data-note="other-rotor"]')).toBeVisible();
    await expect(figure(page, "fit")).toContainText("measured with a rotor of 66");
    await press(page, "Fly the rotor of the table");
    await expect(page.locator('[data-note="other-rotor"]')).toBeHidden();
    await expect(figure(page, "fit")).not.toContainText("measured with a rotor");
});

test("another rotor under the same table is told", async ({ page }) => {
    await table(page);
    await expect(figure(page, "fit")).not.toContainText("measured with a rotor");
    await type(page, "Rotor diameter", "560");
    await expect(page.locator('[data-note="other-rotor"]')).toBeVisible();
    await expect(figure(page, "fit")).toContainText("measured with a rotor of 61");
});

test("rows are typed by hand", async ({ page }) => {
    await table(page);
    await unfold(page, "Or type its rows");
    for (const line of GOOD.trim().split("\n").slice(1, 6)) {
        const cells = line.split(",");
        for (const [place, label] of ["Row: throttle, %", "Row: volts", "Row: amperes", "Row: thrust, g", "Row: rpm, if known"].entries()) {
            await field(page, label).fill(cells[place]!);
        }
        await press(page, "Add the row");
    }
    await press(page, "Use this table");
    await kept(page, '"name":"Typed table"');
    await expect(figure(page, "fit")).toContainText("5 rows");
});

test("a unit typed in a field counts, and a touch selects the text", async ({ page }) => {
    await table(page);
    const diameter = field(page, "Rotor diameter").first();
    await diameter.click();
    await diameter.pressSequentially("24 in");
    await diameter.blur();
    await expect(diameter).toHaveValue("609.6");
});
