// Shows the checkers a small site in good order, which they must pass, and the same site with slips planted
// in it: each checker must find every one of its slips. A checker that sees nothing fails here.
// Usage: node planted.mjs
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { randomBytes } from "node:crypto";
import { spawnSync } from "node:child_process";
import { tmpdir } from "node:os";
import path from "node:path";

const here = import.meta.dirname;
const icon = "data:image/svg+xml,%3Csvg%20xmlns='http://www.w3.org/2000/svg'/%3E";

const page = (title, body) => `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="icon" href="${icon}">
<link rel="stylesheet" href="look.css">
<script defer src="look.js"></script>
</head>
<body>
<main><h1>${title}</h1>
${body}
</main>
</body>
</html>
`;

const good = {
	"index.html": page("Front page of a bench", `<p>There is <a href="pot.html#soil">a pot</a> on the bench.</p><div class="sizes">Sizes</div>`),
	"pot.html": page("A pot on the bench", `<p id="soil">It is on <a href="index.html">the bench</a>.</p>`),
	"look.css": "body { margin: 0; color: #222; background: #fff; }\n",
	"look.js": `document.querySelectorAll(".sizes").forEach((s) => s.classList.add("live"));\n`,
};

// slips are what each checker must find: what is put into the site, and the words of the complaint.
const slips = [
	{ check: ["bash", "html.sh"], body: `<p style="color: red">x</p><p id="twice">x</p><p id="twice">x</p><ul><p>x</p></ul>`, css: "a { colr: red; }\n",
		want: [/Duplicate ID “twice”/, /Element “p” not allowed as child of element “ul”/, /“colr”: Property “colr” doesn't exist/, /no-inline-style/, /no-dup-id/] },
	{ check: ["node", "weight.mjs"], body: `<p>${randomBytes(70_000).toString("base64")}</p>`, want: [/^index\.html: \d+ bytes, more than 61440$/m] },
	{ check: ["node", "browse.mjs"],
		body: `<a href="gone.html">x</a> <a href="pot.html#peat">x</a> <img src="gone.png" alt="x"><script>x()</script><p class="wide">x</p><p class="amounts">x</p>`,
		css: ".wide { width: 500px; }\n", js: "throw new Error('planted');\n",
		want: [/over HTTP: index\.html: status 404: .*gone\.png/, /from disk: index\.html: request failed: .*gone\.png/, /dead link .*\/any\/path\/gone\.html/, /dead link file:.*gone\.html/,
			/dead anchor .*pot\.html#peat/, /Content Security Policy/, /script: planted/, /did not wake 1 of 2 parts/, /over HTTP: index\.html: scrolls sideways at 360 px: .*class="wide"/, /without script: index\.html: scrolls sideways at 320 px/] },
	{ check: ["node", "browse.mjs"], drop: ["look.css"], want: [/no \.css was loaded/, /style sheet does not apply/] },
	{ check: ["node", "browse.mjs"], body: `<iframe src="http://127.0.0.1:9/" title="x"></iframe>`, loose: true, want: [/request outside the site: http:\/\/127\.0\.0\.1:9\//] },
	{ check: ["node", "axe.mjs"], body: `<p class="pale">Pale words</p><img src="${icon}"><p><a href="#a">1</a><a href="#b">2</a></p>`,
		css: ".pale { color: #ccc; } @media (prefers-color-scheme: dark) { h1 { color: #eee; } } p a { display: inline-block; width: 9px; height: 9px; overflow: hidden; }\n",
		want: [/index\.html \(light\): color-contrast/, /index\.html \(dark\): color-contrast: .* h1/, /\(light, no script\): color-contrast/, /image-alt/, /target-size/] },
];

function plant({ body = "", css = "", js = "", drop = [], loose = false }) {
	const site = { ...good };
	site["index.html"] = site["index.html"].replace("</main>", `${body}</main>`);
	if (loose) site["index.html"] = site["index.html"].replace(/<meta http-equiv[^>]*>\n/, "");
	site["look.css"] += css;
	site["look.js"] += js;
	for (const name of drop) delete site[name];
	const dir = mkdtempSync(path.join(tmpdir(), "planted-"));
	for (const [name, text] of Object.entries(site)) writeFileSync(path.join(dir, name), text);
	return dir;
}

// run shows a site to a checker and returns what the checker says and its exit code.
function run(check, change) {
	const dir = plant(change);
	const { status, stdout, stderr } = spawnSync(check[0], [...check.slice(1), dir], { cwd: here, encoding: "utf8" });
	rmSync(dir, { recursive: true });
	return { status, said: stdout + stderr };
}

let failed = 0;
function fail(text, said) {
	failed++;
	console.log(`${text}; it said:\n${said}`);
}

for (const check of [...new Set(slips.map((s) => s.check.join(" ")))]) {
	const { status, said } = run(check.split(" "), {});
	if (status !== 0) fail(`${check} does not pass a site in good order`, said);
}
for (const slip of slips) {
	const { status, said } = run(slip.check, slip);
	if (status !== 1) fail(`${slip.check.join(" ")} ended with ${status}, not 1, on planted slips`, said);
	for (const words of slip.want) if (!words.test(said)) fail(`${slip.check.join(" ")} did not find ${words}`, said);
}
console.log(failed ? `${failed} failures` : `${slips.reduce((n, s) => n + s.want.length, 0)} planted slips, all found`);
process.exitCode = failed ? 1 : 0;
