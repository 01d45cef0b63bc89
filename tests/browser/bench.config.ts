// Measurements in the built page: one at a time, nothing else beside it. `cargo xtask bench` runs them.
import { defineConfig } from "@playwright/test";
import tests from "./playwright.config.ts";

export default defineConfig({ ...tests, testDir: "bench", testMatch: "*.bench.ts", workers: 1, fullyParallel: false });
