// A static host for one test: a free port, a folder that can be exchanged, and an end at any moment.
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createServer, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";

/** What `cargo xtask build` made, or another build by the environment. */
export const DIST = process.env.DIST ?? fileURLToPath(new URL("../../dist", import.meta.url));

const TYPES: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".gz": "application/gzip",
  ".txt": "text/plain; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".webmanifest": "application/manifest+json",
};

/** Another answer than the file. */
export interface Lie {
  status: number;
  type?: string;
  body: string | Buffer;
  /** Sends the body and then nothing more, without an end. */
  hangs?: boolean;
}

export interface Host {
  /** Where the page is, with the closing slash. */
  url: string;
  /** The folder served: set it to another one to release a new version. */
  folder: string;
  /** What the host answers instead, where it lies. */
  lie?: (content: Buffer, path: string) => Lie | Promise<Lie> | undefined;
  /** Cuts every connection unanswered, as where there is no network. */
  isDown?: boolean;
  /** Answers that were begun and hang. */
  hanging: { path: string; response: ServerResponse }[];
  /** Paths asked for so far. */
  asked: string[];
  /** Ends at once, open connections too. */
  stop(): Promise<void>;
}

/** Serves `folder` below `path`, which begins and ends with a slash. */
export async function serve(folder = DIST, path = "/"): Promise<Host> {
  if (!existsSync(folder)) throw new Error(`${folder} is missing: run cargo xtask build first`);
  const host: Host = { url: "", folder, hanging: [], asked: [], stop };
  const server = createServer(async (request, response) => {
    if (host.isDown) return request.socket.destroy();
    const asked = new URL(request.url ?? "/", "http://host").pathname;
    host.asked.push(asked);
    if (asked.startsWith(path)) await send(response, host, asked.slice(path.length) || "index.html");
    else response.writeHead(404).end();
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  host.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}${path}`;
  return host;

  async function stop() {
    if (!server.listening) return;
    const closed = new Promise((done) => server.close(done));
    server.closeAllConnections();
    await closed;
  }
}

async function send(response: ServerResponse, host: Host, path: string) {
  try {
    const content = await readFile(join(host.folder, normalize(`/${path}`)));
    const lie = await host.lie?.(content, path);
    if (lie) {
      const type = lie.type ?? TYPES[extname(path)] ?? "application/octet-stream";
      // The browser may keep the lie, as it may keep the truth.
      response.writeHead(lie.status, { "content-type": type, "cache-control": "max-age=600" });
      if (!lie.hangs) return response.end(lie.body);
      response.write(lie.body);
      host.hanging.push({ path, response });
      return;
    }
    // As a plain static host does: the browser's own cache is allowed for a while, for every file.
    const headers = { "content-type": TYPES[extname(path)] ?? "application/octet-stream", "cache-control": "max-age=600" };
    response.writeHead(200, headers).end(content);
  } catch {
    response.writeHead(404).end();
  }
}
