// Prints every card on A4 and on Letter, and the labels, and reads the paper: one page a card, nothing of its
// text lost, and every code decodes to the address that it stands for, with the stamp.
// Usage: node print.mjs FOLDER
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { startBrowser } from "./browser.mjs";
import { finish, folder, pages } from "./site.mjs";

const dir = folder();
const work = mkdtempSync(path.join(os.tmpdir(), "paper-"));
const complaints = [];
const say = (what) => complaints.push(what);
const run = (command, ...args) => execFileSync(command, args, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });

// codes decodes every code on the pages of a PDF.
function codes(pdf) {
	run("pdftoppm", "-r", "150", "-gray", "-png", pdf, pdf);
	const images = run("find", work, "-name", `${path.basename(pdf)}*.png`).trim().split("\n");
	let found = [];
	for (const image of images) {
		try { found = found.concat(run("zbarimg", "--quiet", "--raw", image).trim().split("\n")); } catch { /* no code on this page */ }
	}
	return found.sort();
}

// inPage runs in the page: the words that the paper must hold, and what its codes stand for.
function inPage() {
	const all = (what) => Array.from(document.querySelectorAll(what));
	const text = (node) => node.textContent.replace(/\s+/g, " ").trim();
	return {
		words: all(".card h1, .card tbody th, .card .steps li, .card-cautions b, .card .stamp b, .label-name, .label-season")
			.flatMap((node) => Array.from(node.childNodes).map(text)).flatMap((line) => line.split(" ")),
		codes: all("svg.code").map((c) => c.getAttribute("aria-label").replace(/^QR code of /, "")).sort(),
	};
}

// missing compares word by word: the paper breaks lines where it likes, also behind a hyphen.
const missing = (words, paper) => {
	const squeezed = paper.replace(/[\s-]+/g, "");
	return words.filter((w) => !squeezed.includes(w.replaceAll("-", "")));
};

const browser = await startBrowser();
const tab = await browser.newPage();
let cards = 0, decoded = 0;
for (const name of pages(dir).filter((n) => /^recipes\/[^/]+\/card\/index.html$/.test(n) || n === "labels/index.html")) {
	await tab.goto(pathToFileURL(path.join(dir, name)).href, { waitUntil: "load" });
	const wanted = await tab.evaluate(inPage);
	for (const format of ["A4", "Letter"]) {
		const pdf = path.join(work, `${name.replaceAll("/", "-")}-${format}.pdf`);
		writeFileSync(pdf, await tab.pdf({ format, printBackground: false }));
		const count = Number(/^Pages:\s+(\d+)/m.exec(run("pdfinfo", pdf))[1]);
		if (name.startsWith("recipes/") && count !== 1) say(`${name}: ${count} pages of ${format}, not one`);
		for (const lost of missing(wanted.words, run("pdftotext", pdf, "-"))) say(`${name}, ${format}: not on paper: ${lost}`);
		if (format === "A4" && name.startsWith("recipes/")) continue; // its code is the same
		const read = codes(pdf);
		if (JSON.stringify(read) !== JSON.stringify(wanted.codes)) say(`${name}, ${format}: codes say ${read.join(", ")}, not ${wanted.codes.join(", ")}`);
		for (const code of read) if (!/^[\x20-\x7e]+$/.test(code)) say(`${name}: a code that is not ASCII`);
		decoded += read.length;
	}
	if (name.startsWith("recipes/")) cards++;
}
await browser.close();
rmSync(work, { recursive: true });
if (cards === 0) say("there is no card");
finish(complaints, `${cards} cards and the labels on A4 and Letter, ${decoded} codes decoded`);
