// Packs, Day and Sheet with something in them, on screens and on paper (A4 and Letter, as PDF).
import { open } from "../act";
import { crewFile, takeInNews } from "../crew";
import { test } from "../fixtures";
import { FOLDER, inView, pageOf, show, whole } from "./look";

const SCREENS = ["packs", "day", "sheet"];
const LOOKS = [
    { width: 390, height: 844, scheme: "light" },
    { width: 390, height: 844, scheme: "dark" },
    { width: 1280, height: 800, scheme: "light" },
    { width: 1280, height: 800, scheme: "dark" },
] as const;

/** The demo's setups and three more, twelve single packs of which six are on board, a day of nine flights. */
function filled(): string {
    const file = JSON.parse(crewFile(3)) as Record<string, unknown[]>;
    const setup = file.setups![0] as { supply: { strings: { packs: object[] }[] } };
    setup.supply = JSON.parse(JSON.stringify(setup.supply)) as typeof setup.supply;
    file.packs = Array.from({ length: 12 }, (_, at) => ({
        id: `own-pack-${at}`,
        name: `A${at + 1}`,
        pack_type: "own-six-7",
        cycles: 30 + 7 * at,
        measured_capacity_mah: 6900 - 110 * (at % 5) - (at === 10 ? 1500 : 0),
        cell_voltages_v: at === 7 ? [4.18, 4.18, 4.05, 4.18, 4.17, 4.18] : at > 3 ? Array(6).fill(4.18 - 0.002 * at) : undefined,
        used_mah: at < 4 ? 4800 + 60 * at : undefined,
        bought: "2025-05-01",
    }));
    setup.supply.strings.forEach((string, at) => (string.packs = [0, 1].map((place) => ({ pack: `own-pack-${2 * at + place}` }))));
    file.day_plans = [
        {
            id: "own-day",
            name: "Bend and ridge",
            date: "2026-11-30",
            start: "08:00",
            wrap: "16:30",
            turn_round_min: 10,
            cool_down_min: 20,
            warm_up_min: 10,
            chargers: 2,
            charger_power_w: 1200,
            charger_current_a: 20,
            charger_efficiency_percent: 87,
            supply: "generator",
            supply_limit_w: 3000,
            fuel_l_per_kwh: 0.5,
            sets: [{ setup: "own-1", count: 3 }],
            flights: [
                { setup: "own-1", count: 5 },
                { setup: "own-2", earliest: "11:30", count: 4, flight_time_min: 6 },
            ],
        },
    ];
    return JSON.stringify(file);
}

for (const look of LOOKS) {
    test(`filled, ${look.width} px, ${look.scheme}`, async ({ browser, baseURL }) => {
        const page = await pageOf(browser, baseURL!, look);
        await open(page, "card");
        await takeInNews(page, filled());
        await page.goto("#/card");
        await page.getByRole("combobox", { name: "Setup" }).first().selectOption({ label: "Shot 1" });
        for (const screen of SCREENS) {
            await show(page, screen);
            const name = `filled-${look.width}-${look.scheme}/${screen}`;
            await inView(page, name);
            await whole(page, `${name}-whole`);
            if (look.width < 900 || look.scheme === "dark") continue;
            for (const format of ["A4", "Letter"]) await page.pdf({ format, path: `${FOLDER}/paper/${screen}-${format}.pdf` });
        }
        await page.context().close();
    });
}
