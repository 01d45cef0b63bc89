// Another release of the page, as the build would have made it.
import { createHash } from "node:crypto";
import { cp, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "./fixtures.ts";
import { DIST } from "./serve.ts";

/** A copy of the build, to be altered. */
export async function copyOfDist(name: string): Promise<string> {
  const folder = test.info().outputPath(name);
  await cp(DIST, folder, { recursive: true });
  return folder;
}

/** The same page as a later release: another page shell with its own version, listed with its checksum. */
export async function secondRelease(name: string, script = ""): Promise<string> {
  const folder = await copyOfDist(name);
  const page = join(folder, "index.html");
  await alter(page, '<html lang="en">', `<html lang="en" data-release="${name}">`);
  await alter(page, /name="version" content="[0-9a-f]+"/, `name="version" content="${name}"`);
  if (script) await alter(page, "start-", script);
  await listPage(folder, name);
  return folder;
}

/** Writes the page's checksum and the version into the worker's list. */
export async function listPage(folder: string, version: string) {
  const sum = createHash("sha256").update(await readFile(join(folder, "index.html"))).digest("hex");
  const worker = join(folder, "worker.js");
  await alter(worker, /"\.\/": "[0-9a-f]{64}"/, `"./": "${sum}"`);
  await alter(worker, /version: "[0-9a-z]+"/, `version: "${version}"`);
}

export async function alter(file: string, from: string | RegExp, to: string) {
  const text = await readFile(file, "utf8");
  const altered = text.replace(from, to);
  expect(altered).not.toBe(text);
  await writeFile(file, altered);
}
