// Uses the search of a built site as a reader does, over HTTP and from disk: by keyboard, by its address, and
// without scripts. Usage: node search.mjs FOLDER
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { startBrowser } from "./browser.mjs";
import { finish, folder, pages, startServer } from "./site.mjs";

const dir = folder();
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const complaints = [];
let looks = 0;

function must(right, what) {
	looks++;
	if (!right) complaints.push(what);
}

const seen = () => ({
	titles: Array.from(document.querySelectorAll(".results a"), (a) => a.textContent),
	kinds: Array.from(document.querySelectorAll(".results .kind"), (k) => k.textContent),
	hrefs: Array.from(document.querySelectorAll(".results a"), (a) => a.href),
	said: document.querySelector("[role=status]").textContent,
	listed: !document.querySelector(".everything").hidden,
	focus: document.activeElement.textContent || document.activeElement.value || "",
	field: document.activeElement.id === "search-field",
	address: location.search,
});

async function use(tab, way, base, exists) {
	const say = (what) => `${way}: ${what}`;
	tab.on("pageerror", (error) => complaints.push(say(error.message)));
	await tab.goto(`${base}search/index.html`, { waitUntil: "load" });
	let now = await tab.evaluate(seen);
	must(now.listed && !now.titles.length && now.field, say("before a question everything is listed, and the field waits"));
	await tab.keyboard.type("pota");
	now = await tab.evaluate(seen);
	must(now.titles.length > 0 && !now.listed, say("\"pota\" finds nothing"));
	must(now.said.startsWith(`${now.titles.length} place`), say(`it says "${now.said}" of ${now.titles.length}`));
	const whole = await ask(tab, "potash");
	must(whole.titles.length > 0 && whole.hrefs.every((h) => now.hrefs.includes(h)), say("what \"potash\" finds, \"pota\" finds too"));
	for (const [question, kind] of [["pepper", "Crop"], ["kelp", "Amendment"], ["half barrel", "Pot"], ["SPRING renew", "Note"], ["barrel tomat", "Recipe"]]) {
		const found = await ask(tab, question);
		must(found.kinds.includes(kind), say(`"${question}" finds no ${kind}: ${found.kinds}`));
		for (const href of found.hrefs) must(await exists(href.split("#")[0]), say(`"${question}": dead link ${href}`));
	}
	const none = await ask(tab, "xyzzyx");
	must(!none.titles.length && none.said.startsWith("Nothing"), say(`nothing found says "${none.said}"`));
	await byKeys(tab, say);
	await tab.goto(`${base}search/index.html?q=p%C3%B3ta`, { waitUntil: "load" });
	now = await tab.evaluate(seen);
	must(now.titles.length > 0, say("a question in the address, with an accent, finds nothing"));
	if (!base.startsWith("file:")) await accessible(tab, say);
}

async function ask(tab, question) {
	await tab.click("#search-field", { count: 3 });
	await tab.keyboard.type(question);
	return tab.evaluate(seen);
}

async function byKeys(tab, say) {
	const asked = await ask(tab, "kelp meal");
	must(asked.address === "?q=kelp%20meal", say(`the address keeps "${asked.address}"`));
	must(asked.titles[0] === "Kelp meal", say(`the first for "kelp meal" is ${asked.titles[0]}: a title counts most`));
	await tab.keyboard.press("ArrowDown");
	await tab.keyboard.press("ArrowDown");
	must((await tab.evaluate(seen)).focus === asked.titles[1], say("two arrows down lead to the second"));
	await tab.keyboard.press("ArrowUp");
	await tab.keyboard.press("ArrowUp");
	must((await tab.evaluate(seen)).field, say("two arrows up lead back to the field"));
	await tab.keyboard.press("Enter");
	await Promise.all([tab.waitForNavigation({ waitUntil: "load" }), tab.keyboard.press("Enter")]);
	must(tab.url() === asked.hrefs[0], say(`Enter leads to ${tab.url()}`));
	await tab.goBack({ waitUntil: "load" });
	must((await tab.evaluate(seen)).titles[0] === asked.titles[0], say("the way back does not lead to what was found"));
}

async function accessible(tab, say) {
	await tab.evaluate(axe);
	for (const scheme of ["light", "dark"]) {
		await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
		const result = await tab.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"] }));
		for (const v of result.violations) complaints.push(say(`${scheme}: ${v.id}: ${v.help}: ${v.nodes[0].target}`));
		must(result.passes.length > 0, say("axe-core did not run"));
	}
}

async function withoutScript(browser, base) {
	const tab = await browser.newPage();
	await tab.setJavaScriptEnabled(false);
	await tab.goto(`${base}search/index.html`, { waitUntil: "load" });
	const links = await tab.$$eval(".everything a", (all) => all.map((a) => a.href.replace(/#.*/, "")));
	for (const name of pages(dir)) {
		if (!/^(notes|recipes|pots)\/.+\//.test(name) || name.endsWith("/card/index.html")) continue;
		must(links.includes(base + name), `without script: ${name} is not listed`);
	}
	must(!(await tab.$("#search-field")), "without script: a field that does nothing");
	await tab.close();
}

const browser = await startBrowser();
const server = await startServer(dir, "/any/path/");
try {
	for (const [way, base, exists] of [
		["over HTTP", server.base, async (url) => (await fetch(url)).ok],
		["from disk", `${pathToFileURL(dir)}/`, (url) => existsSync(new URL(url))],
	]) {
		const tab = await browser.newPage();
		await tab.setBypassCSP(!base.startsWith("file:")); // axe-core alone needs it; browse.mjs opens the page under its policy
		await use(tab, way, base, exists);
		await tab.close();
	}
	await withoutScript(browser, server.base);
} finally {
	await browser.close();
	server.stop();
}
finish(complaints, `${looks} looks: the search finds`);
