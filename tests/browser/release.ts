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

/** The files of a build as its worker lists them: paths below the folder. */
export async function listed(folder: string): Promise<string[]> {
  const list = (await readFile(join(folder, "worker.js"), "utf8")).split("\n")[0]!;
  return [...list.matchAll(/"([^"]+)": "[0-9a-f]{64}"/g)].map(([, path]) => (path === "./" ? "index.html" : path!));
}

/** As the page of a build names it. */
export async function versionOf(folder: string): Promise<string> {
  return /name="version" content="([^"]+)"/.exec(await readFile(join(folder, "index.html"), "utf8"))![1]!;
}

/** A later build in which every file is another one under the name it had: what the browser kept of it is stale. */
export async function laterBuild(name: string, scripts: Record<string, string> = {}): Promise<string> {
  const folder = await copyOfDist(name);
  await alter(join(folder, "index.html"), '<html lang="en">', `<html lang="en" data-release="${name}">`);
  await alter(join(folder, "index.html"), /name="version" content="[0-9a-f]+"/, `name="version" content="${name}"`);
  const files = (await listed(folder)).filter((path) => path !== "index.html");
  for (const path of [...files, "index.html"]) {
    const file = join(folder, path);
    const before = await readFile(file);
    const script = Object.keys(scripts).find((part) => path.startsWith(part));
    const after = script ? Buffer.from(scripts[script]!) : path === "index.html" ? before : changed(path, before);
    await writeFile(file, after);
    const sum = (content: Buffer, form: "hex" | "base64") => createHash("sha256").update(content).digest(form);
    const page = await readFile(join(folder, "index.html"), "utf8");
    if (path !== "index.html") {
      await writeFile(join(folder, "index.html"), page.replaceAll(sum(before, "base64"), sum(after, "base64")));
    }
    const key = path === "index.html" ? "./" : path;
    const list = await readFile(join(folder, "worker.js"), "utf8");
    await writeFile(join(folder, "worker.js"), list.replace(new RegExp(`"${key}": "[0-9a-f]{64}"`), `"${key}": "${sum(after, "hex")}"`));
  }
  await alter(join(folder, "worker.js"), /version: "[0-9a-z]+"/, `version: "${name}"`);
  return folder;
}

/** The same to a browser, with other bytes. */
function changed(path: string, content: Buffer): Buffer {
  if (/\.(js|css)$/.test(path)) return Buffer.concat([content, Buffer.from("\n/* later */\n")]);
  if (path.endsWith(".svg")) return Buffer.concat([content, Buffer.from("<!-- later -->\n")]);
  const copy = Buffer.from(content);
  // The time in a gzip header is nobody's business.
  if (path.endsWith(".gz")) copy.writeUInt32LE(copy.readUInt32LE(4) + 1, 4);
  else return Buffer.concat([copy, Buffer.from("\n")]);
  return copy;
}
