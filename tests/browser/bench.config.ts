// Measurements in the built page: one at a time, nothing else beside it. `cargo xtask bench` runs them.
import { defineConfig } from "@playwright/test";
import tests from "./playwright.config.ts";

export default defineConfig({
    ...tests,
    retries: 0,
    // A trace looks at the whole page at each step, in the page's own time.
    use: { ...tests.use, trace: "off" },
    testDir: "bench",
    testMatch: "*.bench.ts",
    workers: 1,
    fullyParallel: false,
});
