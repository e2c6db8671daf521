// Writes the examples of the CommonMark standard as the JSON file that the Go test reads.
// Usage: node commonmark.mjs FILE
import { createRequire } from "node:module";
import { writeFileSync } from "node:fs";

const { tests } = createRequire(import.meta.url)("commonmark-spec");
const tabs = (text) => text.replaceAll("→", "\t");
const examples = tests.map((t) => ({ example: t.number, section: t.section, markdown: tabs(t.markdown), html: tabs(t.html) }));
if (examples.length !== 652 || examples.some((e, i) => e.example !== i + 1)) throw new Error(`the standard has 652 examples in order, not ${examples.length}`);
writeFileSync(process.argv[2], JSON.stringify(examples));
console.log(`${examples.length} examples`);
