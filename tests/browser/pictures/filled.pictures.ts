// Packs, Day and Sheet with something in them, on screens and on paper (A4 and Letter, as PDF).
import { open } from "../act";
import { groundFile, takeInNews } from "../crew";
import { test } from "../fixtures";
import { FOLDER, inView, pageOf, show, whole } from "./look";

const SCREENS = ["packs", "day", "sheet"];
const LOOKS = [
    { width: 390, height: 844, scheme: "light" },
    { width: 390, height: 844, scheme: "dark" },
    { width: 1280, height: 800, scheme: "light" },
    { width: 1280, height: 800, scheme: "dark" },
] as const;

for (const look of LOOKS) {
    test(`filled, ${look.width} px, ${look.scheme}`, async ({ browser, baseURL }) => {
        const page = await pageOf(browser, baseURL!, look);
        await open(page, "card");
        await takeInNews(page, groundFile());
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
