// Lighthouse on the front page, a note and a recipe, over loopback: accessibility, best practices and search
// engines' wishes at 100. Its speed figures are left out: no check measures time. Usage: node lighthouse.mjs FOLDER
import lighthouse from "lighthouse";
import { startBrowser } from "./browser.mjs";
import { finish, folder, pages, startServer } from "./site.mjs";

const dir = folder();
const complaints = [];
const first = (pattern) => pages(dir).find((name) => pattern.test(name));
const wanted = ["index.html", first(/^notes\/.+\/index.html$/), first(/^recipes\/[^/]+\/index.html$/)];
const server = await startServer(dir, "/any/path/");
const browser = await startBrowser();
for (const name of wanted) {
	const { lhr } = await lighthouse(server.base + name, {
		port: Number(new URL(browser.wsEndpoint()).port), onlyCategories: ["accessibility", "best-practices", "seo"], logLevel: "silent",
	});
	if (lhr.runtimeError) complaints.push(`${name}: ${lhr.runtimeError.message}`);
	for (const category of Object.values(lhr.categories)) {
		if (category.score === 1) continue;
		const failed = category.auditRefs.map((ref) => lhr.audits[ref.id]).filter((a) => a.score !== null && a.score < 1);
		complaints.push(`${name}: ${category.title} ${Math.round(category.score * 100)}: ${failed.map((a) => a.title).join("; ")}`);
	}
}
await browser.close();
server.stop();
finish(complaints, `${wanted.join(", ")}: 100 each`);
