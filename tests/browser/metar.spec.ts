// A weather report pasted on Site: what it says beside what stands there, taken over by one touch and back by one.
import type { Page } from "@playwright/test";
import { expect, test } from "./fixtures.ts";
import { open, press, type, unfold } from "./act";
import { field, figure } from "./find";

const paste = (page: Page, text: string) => page.getByLabel("Paste a report").fill(text);

/** The group of a moment so many hours ago. */
function observed(hours: number): string {
    const at = new Date(Date.now() - hours * 3_600_000);
    return [at.getUTCDate(), at.getUTCHours(), at.getUTCMinutes()].map((part) => String(part).padStart(2, "0")).join("") + "Z";
}

test("a report is shown beside what stands there, taken over and taken back", async ({ page }) => {
    await open(page, "site");
    await unfold(page, "Weather report (METAR)");
    await paste(page, `METAR ABCD ${observed(0.5)} 24010G20KT 9999 FEW040 M02/M07 Q1021=`);
    await expect(figure(page, "report-of")).toContainText("ABCD");
    await expect(figure(page, "report-age")).toContainText(/0\.[56].h old/);
    const said = page.getByRole("table").filter({ hasText: "Report" });
    await expect(said.getByRole("row", { name: /^QNH/ })).toContainText("1021");
    await expect(said.getByRole("row", { name: /^Outside air temperature/ })).toContainText("−2");
    await type(page, "Elevation of the station", "900");
    // The pass road is higher than the station: colder by 6.5 °C per 1000 m.
    await expect(figure(page, "report-temperatures")).toContainText(/At the station −2.°C; at the site, .* −\d+(\.\d)?.°C/);
    await page.getByRole("radio", { name: "Carried to the site" }).check();
    const here = /−?\d+(?:[.,]\d)?(?=.°C\.$)/.exec((await figure(page, "report-temperatures").textContent()) ?? "")?.[0];
    await press(page, "Take over");
    await expect(field(page, "Outside air temperature")).toHaveValue(here ?? "");
    await expect(field(page, "QNH")).toHaveValue("1021");
    await expect(field(page, "Mean wind")).toHaveValue("18.5");
    await expect(field(page, "Gust")).toHaveValue("37");
    await page.goto("#/settings");
    await press(page, "Undo: the weather report");
    await page.goto("#/site");
    await expect(field(page, "QNH")).not.toHaveValue("1021");
});

test("an old report says so, and one that is none is refused in words", async ({ page }) => {
    await open(page, "site");
    await unfold(page, "Weather report (METAR)");
    await paste(page, `ABCD ${observed(7)} 00000KT CAVOK 12/07 A2992`);
    await expect(figure(page, "report-age")).toContainText(/7\.[01].h old: old/);
    await expect(page.getByText("Calm.")).toBeVisible();
    for (const [text, words] of [
        ["hello", "is not a station"],
        [`ABCD ${observed(1)} 24010KT 07/12 Q1013`, "dew point is never above"],
        [`TAF ABCD ${observed(1)} 2510/2610 24010KT`, "forecast"],
    ] as const) {
        await paste(page, text);
        await expect(page.getByRole("alert")).toContainText(words);
        await expect(page.getByRole("alert")).toContainText("Nothing was changed");
    }
});
