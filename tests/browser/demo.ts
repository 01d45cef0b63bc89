// The demo as the app carries it: names are read from the file, so that the tests follow it.
import { readFileSync } from "node:fs";

interface Item { id: string; name: string; kind: string; mass_kg: number }
interface Setup { id: string; name: string; airframe: string; load: { item: string; on: boolean }[] }
interface Demo { airframes: { id: string; name: string }[]; pack_types: { id: string; name: string; cells_in_series: number }[];
    items: Item[]; sites: { id: string; name: string }[]; setups: Setup[] }

export const demoText = readFileSync(new URL("../../demo-data/mountain-road.json", import.meta.url), "utf8");
export const demo = JSON.parse(demoText) as Demo;

function needed<T>(thing: T | undefined, words: string): T {
    if (thing === undefined) throw new Error(`the demo has no ${words}`);
    return thing;
}

const item = (id: string): Item => needed(demo.items.find((there) => there.id === id), id);
const onBoard = (setup: Setup): Item[] => setup.load.filter((load) => load.on).map((load) => item(load.item));

export const first = needed(demo.setups[0], "setup");
export const second = needed(demo.setups[1], "second setup");
/** A lens on board of the first setup, lighter than another one of the demo. */
export const lens = needed(onBoard(first).find((there) => there.kind === "lens"), "lens on board of the first setup");
export const heavierLens = needed(
    demo.items.find((there) => there.kind === "lens" && there.mass_kg > lens.mass_kg),
    "heavier lens",
);
