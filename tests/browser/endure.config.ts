// Long runs in the built page: killed browsers, races of tabs, other engines. `cargo xtask endure` runs them.
import { defineConfig } from "@playwright/test";
import tests from "./playwright.config.ts";

export default defineConfig({
  ...tests,
  retries: 0,
  testDir: "endure",
  testMatch: "*.endure.ts",
  // Beside what the other tests clear away as they begin.
  outputDir: "../../target/endure",
  workers: 1,
  fullyParallel: false,
  timeout: 3_600_000,
  // They run beside other work.
  expect: { timeout: 60_000 },
  // Of a run of an hour it would not fit anywhere.
  use: { ...tests.use, trace: "off" },
});
