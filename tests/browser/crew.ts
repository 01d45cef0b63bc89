// A crew's own data, made from the demo under other ids, so that it stands beside it.
import type { Page } from "@playwright/test";
import { expect } from "./fixtures.ts";
import { open } from "./act";
import { demo } from "./demo";

type Json = Record<string, unknown>;
const all = demo as unknown as Record<string, Json[]> & { liftmargin_schema: number };

/** The airframe, packs, items and sites of the demo under ids of their own, and so many setups with ever more on board. */
export function crewFile(setups: number): string {
    const own = (list: string): Json[] => (all[list] ?? []).map((record) => ({ ...record, id: `own-${record.id}` }));
    const base = all.setups?.[0] as Json;
    const supply = base.supply as { strings: { packs: Record<string, string>[] }[] };
    const strings = supply.strings.map((string) => ({ ...string, packs: string.packs.map((pack) => ({ type: `own-${pack.type}` })) }));
    const made = Array.from({ length: setups }, (_, number) => ({
        ...base,
        id: `own-${number}`,
        name: `Shot ${number + 1}`,
        airframe: `own-${base.airframe}`,
        site: `own-${base.site}`,
        supply: { ...supply, strings },
        load: (base.load as { item: string; on: boolean }[]).map((load, at) => ({ item: `own-${load.item}`, on: at > number % 5 || number < 5 })),
        profile: { ...(base.profile as Json), height_m: 20 + number },
    }));
    return JSON.stringify({
        liftmargin_schema: all.liftmargin_schema,
        airframes: own("airframes"),
        pack_types: own("pack_types"),
        packs: [],
        items: own("items"),
        sites: own("sites"),
        setups: made,
    });
}

/** The demo's setups and three more, twelve single packs of which six are on board, a day of nine flights. */
export function groundFile(): string {
    const file = JSON.parse(crewFile(3)) as Record<string, Json[]>;
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

/** Takes a file in on Settings. */
export async function takeInFile(page: Page, text: string): Promise<void> {
    await open(page, "settings");
    await page.getByLabel("Import a file").setInputFiles({ name: "crew.json", mimeType: "application/json", buffer: Buffer.from(text) });
}

/** As `takeInFile` where nothing differs. */
export async function takeInNews(page: Page, text: string): Promise<void> {
    await takeInFile(page, text);
    await expect(page.getByText(/crew\.json: \d+ taken in/)).toBeVisible();
}
