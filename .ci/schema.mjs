// Holds what "trug catalogue --schema" prints against ajv: it is a schema of its draft, it accepts the YAML files
// and the blocks of handbooks and the examples of the docs as a YAML library reads them, with numbers and dates
// of its own, and it refuses faulty ones.
// Usage: node schema.mjs SCHEMA.json CONTENT...
import { readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import Ajv2020 from "ajv/dist/2020.js";
import YAML from "yaml";

const [schemaFile, ...contents] = process.argv.slice(2);
const root = path.dirname(import.meta.dirname);
const schema = JSON.parse(readFileSync(schemaFile, "utf8"));
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, strictRequired: false, allErrors: true });
if (!ajv.validateSchema(schema)) throw new Error(`no schema of its draft: ${ajv.errorsText()}`);
ajv.addSchema(schema, "trug");
const names = Object.keys(schema.$defs);
const judges = Object.fromEntries(names.map((name) => [name, ajv.getSchema(`trug#/$defs/${name}`)]));

const own = { "handbook.yaml": "handbook", "cupboard.yaml": "cupboard", "pots.yaml": "pots" };
const files = (dir) => readdirSync(dir, { recursive: true }).map((name) => path.join(dir, name)).sort();

// pieces returns what a file holds that there is a schema of, as [name, YAML].
function pieces(name, text) {
	const base = path.basename(name);
	if (own[base]) return [[own[base], text]];
	if (base.endsWith(".recipe.yaml")) return [["recipe-file", text]];
	if (!base.endsWith(".md")) return [];
	return [...text.matchAll(/^```([a-z-]+)(?: [^\n`]*)?\n(.*?)^```$/gms)].filter(([, kind]) => names.includes(kind)).map(([, kind, body]) => [kind, body]);
}

// judge returns what is wrong with a text, "" for nothing.
function judge(name, text) {
	const valid = judges[name](YAML.parse(text, { uniqueKeys: false }));
	return valid ? "" : ajv.errorsText(judges[name].errors);
}

const failures = [];
const accepted = {};
function accept(where, name, text) {
	const wrong = judge(name, text);
	if (wrong) failures.push(`${where}: ${name} refused: ${wrong}`);
	accepted[name] = (accepted[name] ?? 0) + 1;
	const extra = YAML.parse(text);
	if (["cupboard", "pots"].includes(name) || Array.isArray(extra) || !extra) return;
	if (judges[name]({ ...extra, "surely unknown": "?" })) failures.push(`${where}: ${name} accepts an unknown key`);
}

for (const dir of contents) {
	for (const file of files(dir).filter((name) => /\.(md|yaml)$/.test(name))) {
		for (const [name, text] of pieces(file, readFileSync(file, "utf8"))) accept(file, name, text);
	}
}
for (const kind of names) {
	const doc = path.join(root, "calcblocks", kind, "doc.md");
	if (["handbook", "cupboard", "pots", "recipe-file"].includes(kind)) continue;
	for (const [, body] of readFileSync(doc, "utf8").matchAll(/^```yaml\n(.*?)^```$/gms)) accept(doc, kind, body);
}
for (const [name, text] of pieces("README.md", readFileSync(path.join(root, "README.md"), "utf8"))) accept("README.md", name, text);
for (const name of names) if (!accepted[name]) failures.push(`nothing to judge for ${name}`);

// Faulty handbooks whose faults a schema can express, and one that it cannot.
const faulty = ["unknown-key", "missing-keys", "pot-keys", "weight-key", "top-needs-one", "topup-take-and-fresh", "shape-and-volume", "cupboard", "recipe-file"];
const beyond = ["unknown-amendment"];
for (const name of [...faulty, ...beyond]) {
	const archive = readFileSync(path.join(root, "builder/testdata/faults", `${name}.txtar`), "utf8");
	const parts = archive.split(/^-- (.+) --$/m).slice(1);
	const refused = [];
	for (let i = 0; i < parts.length; i += 2) {
		for (const [what, text] of pieces(parts[i], parts[i + 1])) refused.push(judge(what, text));
	}
	if (refused.some(Boolean) === beyond.includes(name)) failures.push(`faults/${name}: ${beyond.includes(name) ? "refused" : "accepted"}`);
}

for (const line of failures) console.error(line);
console.log(`${names.length} schemas; accepted ${Object.values(accepted).reduce((a, b) => a + b)} texts; refused ${faulty.length} faulty handbooks`);
process.exit(failures.length ? 1 : 0);
