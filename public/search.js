/* Narrows the search page's lists down to what is asked for. The index script before this one has handed its
   things and words to the page; nothing is fetched, so that it works from a folder too. */
(function () {
	"use strict";

	const place = document.querySelector("[data-search]");
	const index = place && place.searchIndex;
	if (!index) return;

	const most = 50; // shown at once
	const worth = { T: 12, H: 5, "": 2 }; // a word in the title, in a heading or name, in the text
	const make = (name, className, text) => {
		const node = document.createElement(name);
		if (className) node.className = className;
		if (text) node.textContent = text;
		return node;
	};

	// The same folding as the index's: lower case, no accents on Latin letters, those that have none to take off
	// written out, letters and digits alone.
	const spelled = { ß: "ss", æ: "ae", œ: "oe", ø: "o", ł: "l", đ: "d", ð: "d", þ: "th", ħ: "h", ı: "i" };
	function folded(text) {
		return text.toLowerCase().normalize("NFKD").replace(/(\p{Script=Latin})\p{M}+/gu, "$1")
			.replace(/[ßæœøłđðþħı]/g, (letter) => spelled[letter])
			.replace(/[^\p{L}\p{M}\p{Nd}]+/gu, " ").normalize("NFC").trim().split(" ").filter(Boolean);
	}

	const lines = index.words.split("\n");
	const titles = index.finds.map(([title]) => " " + folded(title).join(" ") + " ");

	// One term: what each thing that holds a word with this beginning is worth; a whole word counts twice.
	function holders(term) {
		const out = new Map();
		for (const line of lines) {
			if (!line.startsWith(term)) continue;
			const [word, ...steps] = line.split(" ");
			let at = 0;
			for (const step of steps) {
				const rank = /[TH]$/.test(step) ? step.slice(-1) : "";
				at += parseInt(rank ? step.slice(0, -1) : step, 36);
				const value = worth[rank] * (word === term ? 2 : 1);
				if (value > (out.get(at) || 0)) out.set(at, value);
			}
		}
		return out;
	}

	// All terms must be there; the best comes first, and of equals the one that stands first in the lists. A
	// title that is what was asked is the best there is, and one that begins so is better than others.
	function search(text) {
		let found = null;
		const asked = " " + folded(text).join(" ");
		for (const term of folded(text)) {
			const held = holders(term);
			if (!found) { found = held; continue; }
			for (const [at, value] of found) {
				if (held.has(at)) found.set(at, value + held.get(at));
				else found.delete(at);
			}
		}
		for (const [at, value] of found || []) {
			if (titles[at].startsWith(asked)) found.set(at, value + (titles[at] === asked + " " ? 48 : 6));
		}
		return Array.from(found || []).sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([at]) => index.finds[at]);
	}

	const everything = place.querySelector(".everything");
	const label = make("label", "", "What are you looking for?");
	const field = make("input");
	const count = make("p", "count");
	const results = make("ol", "list results");
	field.type = "search";
	field.id = "search-field";
	field.autocomplete = "off";
	field.spellcheck = false;
	label.htmlFor = field.id;
	count.setAttribute("role", "status");
	results.setAttribute("role", "list");
	results.setAttribute("aria-label", "Found");

	function counted(n, text) {
		if (n === 0) return "Nothing holds “" + text + "”. Try the beginning of a word.";
		const pages = n === 1 ? "1 place holds" : n + " places hold";
		return pages + " “" + text + "”" + (n > most ? ", the best " + most + " here." : ".");
	}
	function item([title, href, kind, summary]) {
		const line = make("li");
		const link = make("a", "", title);
		link.href = "../" + href;
		line.append(link, " ", make("span", "kind", kind));
		if (summary) line.append(make("p", "", summary));
		return line;
	}
	function show() {
		const text = field.value.trim();
		const found = search(text);
		const asked = folded(text).length > 0;
		results.replaceChildren(...found.slice(0, most).map(item));
		results.hidden = !found.length;
		everything.hidden = asked;
		count.textContent = asked ? counted(found.length, text) : "";
	}
	// What is asked stands in the address, so that it can be kept and shared.
	function keep() {
		const text = field.value.trim();
		const to = text ? "?q=" + encodeURIComponent(text) : location.pathname;
		try { history.replaceState(null, "", to); } catch (refused) { /* some browsers refuse it for files */ }
	}

	// Arrow keys go through the field and what was found; Enter in the field goes to the best.
	function move(event) {
		const stops = [field, ...results.querySelectorAll("a")];
		const at = stops.indexOf(document.activeElement);
		const step = event.key === "ArrowDown" || (event.key === "Enter" && at === 0) ? 1 : event.key === "ArrowUp" ? -1 : 0;
		if (!step || at < 0 || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
		const next = stops[at + step];
		if (!next) return;
		event.preventDefault();
		next.focus();
	}

	const box = make("div", "search-box");
	box.setAttribute("role", "search");
	box.append(label, field);
	place.prepend(box, count, results);
	field.value = new URLSearchParams(location.search).get("q") || "";
	field.addEventListener("input", () => { show(); keep(); });
	place.addEventListener("keydown", move);
	show();
	field.focus({ preventScroll: true });
})();
