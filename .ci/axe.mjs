// Runs axe-core on pages of every kind, the heaviest of each, in light and dark colours, with the script and
// without it (when all sizes show at once and no control lies over the text), all details open.
// Usage: node axe.mjs FOLDER
import { statSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { eachInTurn, startBrowser } from "./browser.mjs";
import { finish, folder, pages, startServer } from "./site.mjs";

const { source } = createRequire(import.meta.url)("axe-core");
const dir = folder();
const complaints = [], doubts = new Map();
let rules = 0;

const looks = [
	{ scheme: "light", width: 360, height: 740, script: true },
	{ scheme: "dark", width: 1280, height: 900, script: true },
	{ scheme: "light", width: 1280, height: 900, script: false },
	{ scheme: "dark", width: 360, height: 740, script: false },
];

// inPage runs in the page. Target size is off in axe-core unless asked for.
async function inPage() {
	document.querySelectorAll("details").forEach((d) => { d.open = true; });
	const result = await window.axe.run(document, {
		runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"] },
		rules: { "target-size": { enabled: true } },
		resultTypes: ["violations", "incomplete"],
	});
	const short = (list) => list.map((v) => ({ id: v.id, help: v.help, nodes: v.nodes.map((n) => ({ at: n.target.join(" "), why: (n.any[0] ?? n.all[0] ?? n.none[0])?.message ?? "" })) }));
	return { violations: short(result.violations), incomplete: short(result.incomplete), ran: result.passes.length };
}

// refuseScripts keeps the page's own scripts out; turning scripts off would stop axe-core as well.
async function refuseScripts(tab) {
	await tab.setRequestInterception(true);
	tab.on("request", (r) => (r.resourceType() === "script" ? r.abort() : r.continue()));
}

function doubt(why, place) {
	doubts.set(why, [...(doubts.get(why) ?? []), place]);
}

const browser = await startBrowser();
const server = await startServer(dir, "/any/path/");

// ofEveryKind keeps the heaviest pages of each kind: pages of one kind come from one template.
function ofEveryKind(names) {
	const kindOf = (name) => name.replace(/^(recipes|pots|how|plans|trials)\/[^/]+\//, "$1/*/").replace(/^notes\/.+\//, "notes/*/");
	const size = (name) => statSync(path.join(dir, name)).size;
	const kept = new Map();
	for (const name of names.toSorted((a, b) => size(b) - size(a))) {
		const same = kept.get(kindOf(name)) ?? [];
		if (same.length < (kindOf(name) === "notes/*/index.html" ? 5 : 2)) kept.set(kindOf(name), [...same, name]);
	}
	return [...kept.values()].flat();
}
const jobs = ofEveryKind(pages(dir).filter((name) => name !== "404.html" && name !== "whole/index.html")).flatMap((name) => looks.map((look) => ({ name, look })));
try {
	// The strict policy of the pages would refuse axe-core itself, so it is set aside here alone.
	await eachInTurn(browser, jobs, (tab) => tab.setBypassCSP(true), async ({ name, look }, tab) => {
		await tab.setViewport({ width: look.width, height: look.height });
		await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: look.scheme }]);
		if (!look.script) await refuseScripts(tab);
		await tab.goto(server.base + name, { waitUntil: "load" });
		await tab.addStyleTag({ content: ".table-scroll { background-image: none; }" }); // a shadow that leaves it no ground to judge by
		await tab.evaluate(source);
		const found = await tab.evaluate(inPage);
		rules += found.ran;
		for (const v of found.violations) for (const n of v.nodes) complaints.push(`${name} (${look.scheme}${look.script ? "" : ", no script"}): ${v.id}: ${v.help}: ${n.at}: ${n.why}`);
		for (const v of found.incomplete) for (const n of v.nodes) doubt(`${v.id}: ${n.why}`, `${name}: ${n.at}`);
	});
} finally {
	await browser.close();
	server.stop();
}
for (const [why, places] of doubts) console.log(`axe-core cannot decide, ${why}: ${places.length} times, such as ${places[0]}`);
if (!rules) complaints.push("no rule passed anywhere: axe-core did not run");
finish(complaints, `${jobs.length} runs, ${rules} rules passed: no violation`);
