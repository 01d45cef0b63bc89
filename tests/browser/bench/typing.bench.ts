// From a keystroke to the changed figure on the screen, with the processor slowed down four times, by touch alone as on a
// phone: over a resting mouse the browser lays out once more, to find out what lies under it.
import { expect, test } from "../fixtures";
import { open } from "../act";
import { field, figure } from "../find";
import { median, note, quantile } from "./report.ts";

const KEYSTROKES = 40;
const SLOWDOWN = 4;

/** Types one digit after another and measures each until the figure's text has changed and a frame was drawn. */
async function measure(
    page: import("@playwright/test").Page,
    input: string,
    selector: string,
    texts: [string, string],
): Promise<number[]> {
    return page.evaluate(
        async ({ input, selector, count, texts }) => {
            const box = document.querySelector<HTMLInputElement>(input)!;
            const figure = document.querySelector(selector)!;
            const frame = () => new Promise<void>((drawn) => requestAnimationFrame(() => drawn()));
            const times: number[] = [];
            for (let stroke = 0; stroke < count; stroke += 1) {
                // The cautious figures of the last stroke are not to be measured with this one.
                await new Promise((rested) => setTimeout(rested, 900));
                const before = figure.textContent;
                const started = performance.now();
                box.value = texts[stroke % 2]!;
                box.dispatchEvent(new InputEvent("input", { bubbles: true }));
                while (figure.textContent === before) await frame();
                times.push(performance.now() - started);
            }
            return times;
        },
        { input, selector, count: KEYSTROKES, texts },
    );
}

function report(name: string, times: number[]): void {
    note(`${name}, median, ${SLOWDOWN}×`, median(times), 16, "ms", times.length);
    note(`${name}, p95, ${SLOWDOWN}×`, quantile(times, 0.95), 50, "ms", times.length);
}

test("keystroke to changed figure", async ({ page, context }) => {
    test.setTimeout(240_000);
    await open(page, "card");
    await expect(figure(page, "flight-time")).toHaveText(/\d/);
    await page.locator("summary").filter({ hasText: "What if" }).tap();
    await expect(page.locator("#what-if-extra-mass")).toBeVisible();
    const session = await context.newCDPSession(page);
    await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWDOWN });
    const mass = await measure(page, "#what-if-extra-mass", '[data-figure="all-up-mass"]', ["9", "1"]);
    report("keystroke on Card", mass);

    await session.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    await page.goto("#/site");
    await expect(field(page, "Outside air temperature")).toBeVisible();
    await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWDOWN });
    const id = await field(page, "Outside air temperature").getAttribute("id");
    report("keystroke on Site", await measure(page, `#${id}`, '[data-figure="density-altitude"]', ["31", "3"]));
});
