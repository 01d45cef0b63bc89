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
