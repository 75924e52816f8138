// A folder of static files served on this computer, under a base path, text packed: what any static host does.
import {createReadStream} from "node:fs";
import {stat} from "node:fs/promises";
import {createServer} from "node:http";
import {extname, join, normalize, sep} from "node:path";
import {createGzip} from "node:zlib";

const types = {
  ".css": "text/css; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".wav": "audio/wav",
  ".woff2": "font/woff2",
};

/** Serves `folder`; a taken port gives way to the next free one. Resolves to its address and a way to close it. */
export async function servedFolder(folder, {base = "/", port = 0} = {}) {
  const prefix = `/${base.replace(/^\/|\/$/g, "")}/`.replace("//", "/");
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname);
    if (!path.startsWith(prefix)) {
      response.writeHead(302, {location: prefix}).end();
      return;
    }
    let file = normalize(join(folder, path.slice(prefix.length)));
    let found = file === folder || file.startsWith(folder + sep) ? await stat(file).catch(() => undefined) : undefined;
    if (found?.isDirectory()) {
      file = join(file, "index.html");
      found = await stat(file).catch(() => undefined);
    }
    if (!found) {
      response.writeHead(404, {"content-type": "text/plain; charset=utf-8"}).end("There is no such page here.");
      return;
    }
    const type = types[extname(file)] ?? "application/octet-stream";
    const packed = /gzip/.test(request.headers["accept-encoding"] ?? "") && /^text|json|svg/.test(type);
    response.writeHead(200, {
      "content-type": type,
      ...(packed ? {"content-encoding": "gzip", vary: "accept-encoding"} : {"content-length": found.size}),
    });
    const bytes = createReadStream(file);
    (packed ? bytes.pipe(createGzip()) : bytes).pipe(response);
  });
  for (let tries = 0; ; tries++) {
    try {
      await new Promise((resolve, reject) => {
        server.once("error", reject);
        server.listen(port === 0 ? 0 : port + tries, "127.0.0.1", resolve);
      });
      break;
    } catch (error) {
      if (error.code !== "EADDRINUSE" || tries > 50) throw error;
    }
  }
  return {address: `http://localhost:${server.address().port}${prefix}`, close: () => server.close()};
}
