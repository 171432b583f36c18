/** A server of one's own for the built page, so that it can be taken away, and can come to serve a newer version. */
import { createServer, type Server } from "node:http";
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { extname, join, normalize } from "node:path";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".png": "image/png",
};

export interface OwnServer {
  readonly address: string;
  /** From now on the page's service worker says it is of this version. */
  release(version: string): void;
  /** Nothing answers any more. */
  end(): Promise<void>;
}

export async function startOwnServer(folder = "dist/app"): Promise<OwnServer> {
  let version: string | undefined;
  const server: Server = createServer((request, response) => {
    const path = normalize(new URL(request.url ?? "/", "http://localhost").pathname);
    const file = path === "/" ? "/index.html" : path;
    readFile(join(folder, file)).then(
      (contents) => {
        const changed = file === "/service-worker.js" && version !== undefined;
        const body = changed
          ? contents.toString().replace(/VERSION = "\w+"/, `VERSION = "${version ?? ""}"`)
          : contents;
        response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "", "cache-control": "no-cache" }).end(body);
      },
      () => response.writeHead(404).end(),
    );
  });
  server.listen(0, "localhost");
  await once(server, "listening");
  const at = server.address();
  if (at === null || typeof at === "string") throw new Error("the server has no port");
  return {
    address: `http://localhost:${at.port}/`,
    release(next) {
      version = next;
    },
    async end() {
      if (!server.listening) return;
      server.close();
      server.closeAllConnections();
      await once(server, "close");
    },
  };
}
