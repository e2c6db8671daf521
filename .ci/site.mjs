// The built site as the checkers see it: its files, and a server on loopback that shows them under a
// sub-path and nowhere else.
import { createServer } from "node:http";
import { readdirSync, readFileSync, existsSync, statSync } from "node:fs";
import path from "node:path";

const types = {
	".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json",
	".csv": "text/csv", ".yaml": "application/yaml", ".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg",
	".atom": "application/atom+xml", ".xml": "application/xml", ".ics": "text/calendar",
};

// folder returns the site's folder, which the command line names.
export function folder() {
	const dir = process.argv[2];
	if (!dir || !existsSync(path.join(dir, "index.html"))) throw new Error(`"${dir}" holds no site: name the folder of a built handbook`);
	return path.resolve(dir);
}

// pages lists the HTML files of a folder, sorted, with slashes.
export function pages(dir) {
	return readdirSync(dir, { recursive: true }).map((name) => name.split(path.sep).join("/")).filter((name) => name.endsWith(".html")).sort();
}

// startServer serves dir under the path prefix ("/any/path/"); any other address answers 404 with the site's
// not-found page, as a static host does. It names files only: a folder's address is not served.
export async function startServer(dir, prefix) {
	const server = createServer((request, response) => {
		const asked = decodeURIComponent(new URL(request.url, "http://127.0.0.1").pathname);
		const file = path.join(dir, asked.slice(prefix.length));
		const found = asked.startsWith(prefix) && file.startsWith(dir + path.sep) && existsSync(file) && statSync(file).isFile();
		const sent = found ? file : path.join(dir, "404.html");
		response.writeHead(found ? 200 : 404, { "Content-Type": types[path.extname(sent)] ?? "application/octet-stream" });
		response.end(existsSync(sent) ? readFileSync(sent) : "");
	});
	await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
	return { base: `http://127.0.0.1:${server.address().port}${prefix}`, stop: () => { server.closeAllConnections(); server.close(); } };
}

// finish prints the complaints and ends with 1 when there are any.
export function finish(complaints, done) {
	const once = [...new Set(complaints)];
	for (const line of once) console.log(line);
	console.log(once.length ? `${once.length} complaints` : done);
	process.exitCode = once.length ? 1 : 0;
}
