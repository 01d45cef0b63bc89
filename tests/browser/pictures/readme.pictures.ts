// The four pictures that the README shows.
import { test } from "../fixtures";
import { inView, type Look, pageOf, show } from "./look";

const PHONE = { width: 390, height: 844, scale: 1.5 };
const LAPTOP = { width: 1280, height: 800, scale: 1 };

const CHOSEN: [name: string, screen: string, look: Look][] = [
    ["card-phone", "card", { ...PHONE, scheme: "light" }],
    ["card-phone-dark", "card", { ...PHONE, scheme: "dark" }],
    ["card-laptop", "card", { ...LAPTOP, scheme: "light" }],
    ["sheet-laptop", "sheet", { ...LAPTOP, scheme: "light" }],
];

for (const [name, screen, look] of CHOSEN) {
    test(name, async ({ browser, baseURL }) => {
        const page = await pageOf(browser, baseURL!, look);
        await show(page, screen);
        await inView(page, `readme/${name}`);
        await page.context().close();
    });
}
