// Opens every page in a browser, over loopback HTTP under a sub-path and from disk: nothing fails, nothing
// leaves the site, the style and the script work, every link leads somewhere, nothing is wider than a phone.
// Usage: node browse.mjs FOLDER
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { eachInTurn, startBrowser } from "./browser.mjs";
import { finish, folder, pages, startServer } from "./site.mjs";

const dir = folder();
const names = pages(dir);
const complaints = [];
const seen = { pages: 0, links: 0, live: 0, widths: 0 };

// watch notes in trouble whatever goes wrong while the tab loads, and in loaded what came.
function watch(tab, base, trouble, loaded) {
	tab.on("console", (m) => { if (["error", "warn"].includes(m.type()) && m.location().url !== tab.notFoundAt) trouble.push(`console: ${m.text()} ${m.location().url ?? ""}`); });
	tab.on("pageerror", (e) => trouble.push(`script: ${e.message}`));
	tab.on("requestfailed", (r) => trouble.push(`request failed: ${r.url()} ${r.failure()?.errorText ?? ""}`));
	tab.on("requestfinished", (r) => loaded.push(r.url()));
	tab.on("request", (r) => { if (!r.url().startsWith(base) && !r.url().startsWith("data:") && r.url() !== tab.notFoundAt) trouble.push(`request outside the site: ${r.url()}`); });
	tab.on("response", (r) => { if (r.status() >= 400 && r.url() !== tab.notFoundAt) trouble.push(`status ${r.status()}: ${r.url()}`); });
}

// inPage runs in the page: what it shows of its style and script, its links and its ids.
function inPage() {
	const all = (what) => Array.from(document.querySelectorAll(what));
	return {
		plain: getComputedStyle(document.body).marginTop !== "0px",
		parts: all(".sizes").length + all(".amounts").length,
		dead: all(".sizes:not(.live)").length + all(".amounts").filter((a) => !a.querySelector("input[type=checkbox]")).length,
		links: all("a[href], area[href]").map((a) => a.href),
		ids: all("[id]").map((e) => e.id),
	};
}

// tooWide runs in the page, all details open: the elements that make the page scroll sideways.
function tooWide() {
	document.querySelectorAll("details").forEach((d) => { d.open = true; });
	const root = document.documentElement;
	if (root.scrollWidth <= root.clientWidth) return null;
	const kept = (e) => e && (getComputedStyle(e).overflowX !== "visible" || kept(e.parentElement));
	const wide = Array.from(document.body.querySelectorAll("*")).filter((e) => e.getBoundingClientRect().right > root.clientWidth + 0.5 && !kept(e.parentElement));
	return `${root.scrollWidth} px: ${wide.slice(-3).map((e) => `<${e.localName} class="${e.getAttribute("class") ?? ""}"> ${e.textContent.trim().slice(0, 30)}`).join("; ")}`;
}

// visit opens one page and notes what is wrong with it; facts gets its links and ids.
async function visit(tab, url, base, facts, say) {
	const trouble = [], loaded = [];
	watch(tab, base, trouble, loaded);
	await tab.goto(url, { waitUntil: "load" });
	await tab.waitForNetworkIdle({ idleTime: 50 });
	const found = await tab.evaluate(inPage);
	for (const what of trouble) say(what);
	for (const kind of [".css", ".js"]) if (!loaded.some((u) => u.endsWith(kind))) say(`no ${kind} was loaded`);
	if (found.plain) say("the style sheet does not apply");
	if (found.dead) say(`the script did not wake ${found.dead} of ${found.parts} parts`);
	seen.live += found.parts - found.dead;
	seen.pages++;
	facts.set(url, found);
}

// reflow looks at the page at phone widths.
async function reflow(tab, say) {
	for (const width of [360, 320]) {
		await tab.setViewport({ width, height: 740 });
		const wide = await tab.evaluate(tooWide);
		if (wide) say(`scrolls sideways at ${width} px: ${wide}`);
		seen.widths++;
	}
}

// checkLinks follows every link that stays in the site. exists tells whether an address holds a file.
async function checkLinks(facts, base, exists) {
	const known = new Map();
	for (const [url, page] of facts) {
		for (const link of page.links) {
			const [target, anchor] = link.split("#");
			if (/^(https?|mailto):/.test(target) && !target.startsWith("http://127.0.0.1:")) continue;
			seen.links++;
			if (!known.has(target)) known.set(target, target.startsWith(base) && await exists(target));
			if (!known.get(target)) complaints.push(`${url}: dead link ${link}`);
			else if (anchor && !facts.get(target)?.ids.includes(decodeURIComponent(anchor))) complaints.push(`${url}: dead anchor ${link}`);
		}
	}
}

// way opens all pages one way: where names a page's address.
async function way(browser, title, base, exists, after) {
	const facts = new Map();
	const inSite = names.filter((name) => name !== "404.html");
	await eachInTurn(browser, inSite, (tab) => tab.setViewport({ width: 1280, height: 900 }), async (name, tab) => {
		const say = (what) => complaints.push(`${title}: ${name}: ${what}`);
		await visit(tab, base + name, base, facts, say);
		await after?.(tab, say);
	});
	await checkLinks(facts, base, exists);
}

// withoutScript opens the pages at phone widths with scripts off, when everything on them shows at once.
async function withoutScript(browser, base) {
	await eachInTurn(browser, names.filter((name) => name !== "404.html"), (tab) => tab.setJavaScriptEnabled(false), async (name, tab) => {
		await tab.goto(base + name, { waitUntil: "load" });
		await reflow(tab, (what) => complaints.push(`without script: ${name}: ${what}`));
	});
}

// notFound opens an address that is not there, two folders deep, at the path that the site's address has.
async function notFound(browser) {
	const canonical = /<link rel="canonical" href="([^"]+)"/.exec(readFileSync(path.join(dir, "index.html"), "utf8"));
	if (!canonical || !names.includes("404.html")) return;
	const server = await startServer(dir, new URL(canonical[1]).pathname);
	const tab = await browser.newPage();
	tab.notFoundAt = `${server.base}no/such/page.html`;
	const facts = new Map();
	await visit(tab, tab.notFoundAt, server.base, facts, (what) => complaints.push(`not-found page: ${what}`));
	await checkLinks(new Map([...facts].map(([u, f]) => [u, { ...f, links: f.links.filter((l) => !l.startsWith(`${u}#`)) }])), server.base, answers);
	await reflow(tab, (what) => complaints.push(`not-found page: ${what}`));
	await tab.close();
	server.stop();
}

const answers = async (url) => (await fetch(url)).ok;
const onDisk = (url) => existsSync(new URL(url));

const browser = await startBrowser();
const server = await startServer(dir, "/any/path/");
try {
	await way(browser, "over HTTP", server.base, answers, reflow);
	await way(browser, "from disk", `${pathToFileURL(dir)}/`, onDisk);
	await withoutScript(browser, server.base);
	await notFound(browser);
} finally {
	await browser.close();
	server.stop();
}
if (seen.links < seen.pages) complaints.push(`only ${seen.links} links on ${seen.pages} pages: the link check sees nothing`);
finish(complaints, `${seen.pages} visits, ${seen.links} links, ${seen.live} parts woken by the script, ${seen.widths} looks at phone widths: nothing wrong`);
