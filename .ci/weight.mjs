// Weighs every page as a phone fetches it: the page with its style sheets and scripts, each gzipped.
// Pictures are apart, and so is the whole handbook on one page, which is for paper. Usage: node weight.mjs FOLDER
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { finish, folder, pages } from "./site.mjs";

const most = (name) => name.startsWith("recipes/") ? 90 * 1024 : 60 * 1024; // a recipe carries the table of every pot
const dir = folder();
const weigh = (file) => gzipSync(readFileSync(file), { level: 6 }).length;

// loaded lists the files that a page names as style sheet or script; the not-found page names them from the root.
function loaded(name) {
	const text = readFileSync(path.join(dir, name), "utf8");
	const named = [...text.matchAll(/<link rel="stylesheet" href="([^"]+)"|<script[^>]* src="([^"]+)"/g)].map((m) => m[1] ?? m[2]);
	return named.map((to) => to.startsWith("/") ? path.join(dir, path.basename(to)) : path.resolve(dir, path.dirname(name), to));
}

const complaints = [];
const rows = pages(dir).filter((name) => name !== "whole/index.html").map((name) => {
	const files = [path.join(dir, name), ...loaded(name)];
	if (files.length < 3) complaints.push(`${name}: names ${files.length - 1} style sheets and scripts, so this is not its whole weight`);
	for (const file of files) if (!existsSync(file)) complaints.push(`${name}: there is no ${file}`);
	return { name, bytes: files.filter(existsSync).reduce((sum, file) => sum + weigh(file), 0) };
}).sort((a, b) => b.bytes - a.bytes);
for (const { name, bytes } of rows.slice(0, 5)) console.log(`${(bytes / 1024).toFixed(1)} KB  ${name}`);
for (const { name, bytes } of rows) if (bytes > most(name)) complaints.push(`${name}: ${bytes} bytes, more than ${most(name)}`);
finish(complaints, `${rows.length} pages, none over its 60 KB, a recipe 90 KB`);
