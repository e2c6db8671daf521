/* Chooses what is shown; every number is in the page already. Classic script: it runs from a folder too.
   One file, though a long one: each more would be one more thing to fetch beside a heap without a signal. */
(function () {
	"use strict";

	const root = document.documentElement;
	const ours = document.currentScript.src;
	const all = (what, inside) => Array.from((inside || document).querySelectorAll(what));
	const make = (name, className, text) => {
		const node = document.createElement(name);
		if (className) node.className = className;
		if (text) node.textContent = text;
		return node;
	};
	// A reader may forbid storage: then choices last as long as the page.
	const memory = {
		get(key) {
			try { return localStorage.getItem("trug " + key); } catch (refused) { return null; }
		},
		set(key, value) {
			try {
				if (value === null) localStorage.removeItem("trug " + key);
				else localStorage.setItem("trug " + key, value);
			} catch (refused) { /* nothing is kept */ }
		},
	};

	// Sizes: the one picked by its pot is shown, and its name goes into the address.
	function target(link) {
		return document.getElementById(decodeURIComponent(link.getAttribute("href").slice(1)));
	}
	function show(sizes, size, byReader) {
		all(".size", sizes).forEach((s) => s.classList.toggle("shown", s === size));
		all(".picks a", sizes).forEach((link) => {
			if (target(link) === size) link.setAttribute("aria-current", "true");
			else link.removeAttribute("aria-current");
		});
		if (byReader) sizes.classList.add("picked");
	}
	// On a phone the amounts stand below the row of pots: who picks one is taken there, if they are out of sight.
	function reveal(size) {
		const top = size.getBoundingClientRect().top;
		if (top >= 0 && top < innerHeight * 0.6) return;
		size.scrollIntoView();
		size.tabIndex = -1;
		size.focus({ preventScroll: true });
	}
	function again(part, size) {
		const back = make("button", "again", "Another pot");
		back.type = "button";
		back.addEventListener("click", () => {
			part.scrollIntoView();
			(part.querySelector(".picks [aria-current]") || part.querySelector(".picks a")).focus({ preventScroll: true });
		});
		size.querySelector(".size-head").append(back);
	}
	function fromAddress() {
		let at = null;
		try { at = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch (malformed) { return; }
		const size = at && at.closest(".size");
		if (!size || size.id === "my-pot") return; // the address alone does not say what it holds
		show(size.closest(".sizes"), size, true);
		at.scrollIntoView();
	}
	function sizes() {
		all(".sizes").forEach((part) => {
			const first = part.querySelector(".size");
			if (!first) return;
			part.classList.add("live");
			show(part, first, false);
			if (part.querySelector(".picks a")) all(".size", part).forEach((size) => again(part, size));
			part.addEventListener("click", (event) => {
				const link = event.target.closest(".picks a, .nearest");
				if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
				event.preventDefault();
				show(part, target(link), true);
				reveal(target(link));
				const name = link.getAttribute("href").slice(1);
				if (part.querySelector(".own")) tell({ pot: name.replace(/^for-/, "") }, name);
				else history.replaceState(null, "", "#" + name);
			});
		});
		fromAddress();
		window.addEventListener("hashchange", fromAddress);
	}

	// What a reader picked stands in the address, to be shared. A page on disk may only change its anchor.
	const asked = new URLSearchParams(location.search);
	function tell(changes, anchor) {
		all(".strip.lost").forEach((strip) => strip.remove());
		Object.entries(changes).forEach(([key, value]) => value ? asked.set(key, value) : asked.delete(key));
		try {
			history.replaceState(null, "", location.pathname + (asked.size ? "?" + asked : ""));
		} catch (refused) {
			if (anchor) history.replaceState(null, "", "#" + anchor);
		}
	}

	// My pot: a copy of the first size's rows, filled from the table in the page. Only volumes are worked out here: that
	// of the pot and that of the compost on top. Every text was computed at build time.
	const perInch = 2.54, perGallon = 3.785411784; // centimetres; litres in 231 cubic inches
	const volumes = { // cubic centimetres, of inside measures up to the fill line
		round: (m) => Math.PI * m.height / 12 * (m.top * m.top + m.top * m.base + m.base * m.base),
		trough: (m) => m.length * m.width * m.height,
		oval: (m) => Math.PI / 4 * m.length * m.width * m.height,
		litres: (m) => m.litres * 1000,
		gallons: (m) => m.gallons * perGallon * 1000,
	};
	const fieldsOf = { litres: ["litres"], gallons: ["gallons"], round: ["top", "base", "height"], trough: ["length", "width", "height"], oval: ["length", "width", "height"] };
	const bare = (shape) => fieldsOf[shape].length === 1; // known by what it holds alone
	// What lies between the fill line and so many centimetres below it.
	function layer(shape, m, depth) {
		const deep = Math.min(depth, m.height);
		return volumes[shape]({ ...m, height: deep, base: m.top - (m.top - m.base) * deep / m.height });
	}
	// The shape that the program assumes of a pot of which only the litres are known.
	function usual(litres, shares) {
		const top = Math.cbrt(litres * 1000 / volumes.round({ top: 1, ...shares }));
		return { top, base: top * shares.base, height: top * shares.height };
	}
	function compost(own, pot) {
		const top = own.table.top;
		if (top.share) return pot.litres * top.share;
		return (bare(pot.shape) ? layer("round", usual(pot.litres, own.shares), top.depth) : layer(pot.shape, pot.m, top.depth)) / 1000;
	}
	// Numbers as people write them: 15, 12.5, 12,5, 1/2, 15 1/2, 15½.
	function numberIn(text) {
		const plain = text.replace(/[¼½¾⅐-⅞]/g, (sign) => " " + sign.normalize("NFKC")).replace(/\u2044/g, "/").trim();
		const found = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+) +)?(\d+)\/(\d+))$/.exec(plain);
		if (!found) return NaN;
		return found[1] ? Number(found[1].replace(",", ".")) : Number(found[2] || 0) + found[3] / found[4];
	}
	// Litres as the program prints them, rounded as it rounds: no more exact than a tape measure is.
	function about(litres) {
		const scale = Math.pow(10, (litres < 10 ? 1 : 2) - Math.floor(Math.log10(litres)));
		return "about " + Number((Math.round(litres * scale) / scale).toPrecision(3)) + " L";
	}
	function lookUp(steps, at) {
		let from = 0, text = "";
		for (let i = 0; i < steps.length; i += 2) {
			from += steps[i];
			if (from > at) break;
			text = steps[i + 1];
		}
		return text;
	}
	function terms(text) {
		const out = document.createDocumentFragment();
		text.split(" to ").forEach((end, i) => {
			if (i) out.append(" ", make("em", "to", "to"), " ");
			const span = make("span", "end");
			end.split(" + ").forEach((term, j) => {
				const part = /^(\D*?)([\d./ ]*\d)(.*)$/.exec(term) || ["", term, "", ""];
				const words = make("span", "term");
				words.append(part[1], make("b", "", part[2]), part[3]);
				span.append(j ? " + " : "", words);
			});
			out.append(span);
		});
		return out;
	}
	function fillRow(row, table, at) {
		const known = table.rows[row.dataset.option];
		if (!known) return;
		all(".set", row).forEach((set) => {
			const name = set.querySelector("i");
			set.replaceChildren(terms(lookUp(known.sets[set.dataset.set], at)), name);
		});
		const grams = row.classList.contains("weighed") ? row.querySelector(".measure") : row.querySelector(".grams");
		if (grams && !grams.querySelector(".set")) grams.replaceChildren(row.classList.contains("weighed") ? terms(lookUp(known.grams, at)) : lookUp(known.grams, at));
	}
	function copyOfSize(part) {
		const size = part.querySelector(".size").cloneNode(true);
		size.id = "my-pot";
		all(".part:not(.amounts), .remark, .off, .brings", size).forEach((p) => p.remove());
		all("[id]", size).forEach((p) => p.removeAttribute("id"));
		all(".amount", size).forEach((row) => { row.dataset.tick = row.dataset.tick.replace(/\/[^/]*\//, "/my-pot/"); });
		size.querySelector(".size-head > :first-child").textContent = "My pot";
		size.querySelector(".litres") || size.querySelector(".size-head").append(make("p", "litres"));
		size.querySelector(".size-head").after(make("p", "remark measured"));
		size.append(make("p", "on-top"), make("p", "remark rest"));
		part.append(size);
		return size;
	}
	function nearest(part, litres) {
		const away = (link) => {
			const held = (link.textContent.match(/[\d.]+(?= (?:to|L))/g) || []).map(Number).filter(Boolean);
			return Math.min(...held.map((l) => Math.abs(Math.log(l / litres))));
		};
		const link = all(".picks a", part).sort((a, b) => away(a) - away(b))[0];
		const out = make("a", "nearest", link.querySelector("b").textContent);
		out.setAttribute("href", link.getAttribute("href"));
		return out;
	}
	// What the form holds now. A round pot known by its top alone has the shape that the program assumes, where the form
	// names one.
	function written(own) {
		const shape = own.field("shape").value, unit = own.field("unit").value;
		const assumed = (name) => shape === "round" && own.shares[name] > 0 && !own.field(name).value.trim();
		const number = (name) => assumed(name) ? number("top") * own.shares[name] : numberIn(own.field(name).value);
		const names = fieldsOf[shape], guessed = names.filter(assumed), given = names.filter((name) => !guessed.includes(name));
		const m = {};
		names.forEach((name) => { m[name] = number(name) * (unit === "in" && !bare(shape) ? perInch : 1); });
		return { shape, unit, m, guessed, given, litres: volumes[shape](m) / 1000, text: (name) => own.field(name).value.trim(), number };
	}
	// Why there is no answer to what the form holds, "" where there is.
	function lacks(own, pot) {
		if (pot.given.some((name) => !pot.text(name))) return own.hint;
		if (fieldsOf[pot.shape].some((name) => !(pot.m[name] > 0 && pot.m[name] < Infinity))) return "Write each measure as a number above zero, such as 30, 12.5 or 15 1/2.";
		const at = Math.round(pot.litres * 100);
		return at < own.table.from || at > own.table.to ? "That makes " + about(pot.litres) + ". " + own.hint : "";
	}
	// What a reader knows is shown as it is known.
	function holds(pot) {
		if (pot.shape === "litres") return Math.round(pot.litres * 100) / 100 + " L";
		return (pot.shape === "gallons" ? pot.text("gallons") + " US gal, " : "") + about(pot.litres);
	}
	const across = { top: " across the top", base: " at the base", length: " long", width: " wide", height: " of mix" };
	function measured(pot) {
		if (bare(pot.shape)) return "";
		const said = pot.given.map((name) => pot.text(name) + " " + pot.unit + across[name]).join(", ");
		return "Inside measures: " + pot.shape + ", " + said + (pot.guessed.length ? "; the rest of a usual shape." : ".");
	}
	function inAddress(pot) {
		const numbers = (pot.guessed.length === 2 ? pot.given : fieldsOf[pot.shape]).map((name) => Number(pot.number(name).toPrecision(9)));
		if (pot.shape === "litres") return Math.round(pot.litres * 100) / 100 + "-l";
		return pot.shape === "gallons" ? numbers[0] + "-gal" : pot.shape + "-" + numbers.join("x") + "-" + pot.unit;
	}
	function onTop(own, pot) {
		const line = own.mine.querySelector(".on-top"), top = own.table.top;
		line.hidden = !top;
		if (!top) return;
		const litres = compost(own, pot), guess = !top.share && (bare(pot.shape) || pot.guessed.length);
		line.replaceChildren("Compost on top: ", make("b", "", about(litres)), " of " + top.name + ", firmed: " + top.text + (guess ? ", if the pot is of a usual shape" : "") + ". Loose, to buy: " + about(litres * top.loose) + ".");
	}
	function fill(own, pot) {
		const { part, mine, said } = own;
		all(".amount", mine).forEach((row) => fillRow(row, own.table, Math.round(pot.litres * 100)));
		mine.querySelector(".litres").textContent = holds(pot);
		mine.querySelector(".measured").textContent = measured(pot);
		mine.querySelector(".measured").hidden = bare(pot.shape);
		said.textContent = "Your pot holds " + holds(pot) + (pot.guessed.length ? ", if it is of a usual shape: measure its " + pot.guessed.join(" and ") + " to be nearer." : ".");
		onTop(own, pot);
		mine.querySelector(".rest").replaceChildren("Cautions and what it brings stand with the nearest size, ", nearest(part, pot.litres), ". The dose per litre is the same.");
		show(part, mine, true);
	}
	// What the fields held before is no answer to what they hold now, on the page and in the address.
	function unanswered(own, byReader) {
		if (own.mine.classList.contains("shown")) {
			show(own.part, own.part.querySelector(".size"), false);
			own.part.classList.remove("picked");
		}
		const told = asked.get("pot");
		if (byReader && told && !document.getElementById("for-" + told)) tell({ pot: "" }, "");
	}
	function answer(own, byReader) {
		layOut(own);
		const pot = written(own), why = lacks(own, pot);
		own.go.hidden = !!why;
		if (why) {
			own.said.textContent = why;
			unanswered(own, byReader);
			return false;
		}
		fill(own, pot);
		if (byReader) tell({ pot: inAddress(pot) }, "");
		return true;
	}
	function layOut(own) {
		const shape = own.field("shape").value;
		all("[data-for]", own.form).forEach((l) => { l.hidden = !l.dataset.for.split(" ").includes(shape); });
		own.field("unit").closest("label").hidden = bare(shape);
		Object.keys(own.shares).forEach((name) => { own.field(name).placeholder = shape === "round" && own.shares[name] > 0 ? "if known" : ""; });
	}
	function asShared(own, pot) {
		const held = /^([\d.]+)-(l|gal)$/.exec(pot), shape = /^(round|trough|oval)-([\d.]+)(?:x([\d.]*)x([\d.]*))?-(cm|in)$/.exec(pot);
		if (!held && !shape) return false;
		const kind = shape ? shape[1] : held[2] === "l" ? "litres" : "gallons", values = shape ? shape.slice(2) : held.slice(1);
		if (!own.field(fieldsOf[kind][0])) return false; // a dress of before there was this shape
		own.field("shape").value = kind;
		if (shape) own.field("unit").value = shape[5];
		fieldsOf[kind].forEach((name, i) => { own.field(name).value = values[i] || ""; });
		return answer(own, false);
	}
	function lost(pot) {
		const strip = make("div", "strip lost");
		strip.setAttribute("role", "status");
		document.querySelector(".head").after(strip);
		strip.append(make("p", "", "The link names a pot that is not here: \u201c" + pot.slice(0, 60) + "\u201d. You see the first size; pick yours, or write its measures under \u201cAnother pot\u201d."));
	}
	function ownPot() {
		const form = document.querySelector(".own");
		if (!form) return;
		const part = form.closest(".sizes"), said = form.querySelector("[role=status]"), go = make("button", "go", "See the amounts");
		const own = {
			form, part, said, go, hint: said.textContent, mine: copyOfSize(part), table: JSON.parse(form.querySelector("script").textContent),
			shares: { base: Number(form.dataset.base), height: Number(form.dataset.height) }, field: (name) => form.querySelector("[name=" + name + "]"),
		};
		go.type = "button";
		go.hidden = true;
		go.addEventListener("click", () => reveal(own.mine));
		said.after(go);
		form.hidden = false;
		if ((memory.get("spoons") || part.querySelector(".amounts").dataset.sets).startsWith("us")) own.field("unit").value = "in";
		layOut(own);
		form.addEventListener("input", (event) => {
			if (event.target.name in volumes) own.field("shape").value = event.target.name; // whatever it was: that is enough
			answer(own, true);
		});
		form.addEventListener("keydown", (event) => {
			if (event.key === "Enter" && event.target.localName === "input" && !go.hidden) reveal(own.mine);
		});
		return () => {
			const pot = asked.get("pot"), size = pot && document.getElementById("for-" + pot);
			if (size && size.closest(".sizes") === part) show(part, size, true);
			else if (pot && !asShared(own, pot)) lost(pot);
			if (pot && part.classList.contains("picked")) part.querySelector(".size.shown").scrollIntoView();
		};
	}

	// Spoons: one set at a time, the same in every block, remembered.
	const setNames = { us: "US", metric: "Metric", uk: "UK", australian: "Australian" };
	function useSet(set) {
		all(".amounts").forEach((part) => {
			if (!part.dataset.sets.split(" ").includes(set)) return;
			all(".amount", part).forEach((row) => {
				const measures = all(".set", row);
				const chosen = measures.find((m) => m.dataset.set === set) || measures[0];
				measures.forEach((m) => {
					m.hidden = m !== chosen;
					m.classList.toggle("first", m === chosen);
				});
			});
			all(".spoons button", part).forEach((b) => b.setAttribute("aria-pressed", String(b.dataset.set === set)));
		});
	}
	function spoons() {
		let main = "";
		all(".amounts").forEach((part) => {
			const sets = part.dataset.sets.split(" ");
			if (sets.length < 2) return;
			main = main || sets[0];
			const group = make("div", "switch spoons");
			group.setAttribute("role", "group");
			group.setAttribute("aria-label", "Spoons and cups");
			sets.forEach((set) => {
				const button = make("button", "", setNames[set] || set);
				button.type = "button";
				button.dataset.set = set;
				button.addEventListener("click", () => { memory.set("spoons", set); useSet(set); });
				group.append(button);
			});
			part.querySelector(".amounts-head").append(group);
		});
		if (!main) return;
		useSet(main);
		const kept = memory.get("spoons");
		if (kept) useSet(kept);
	}

	// Ticks: what is in the pot already.
	function ticks() {
		all(".amounts").forEach((part) => {
			const clear = make("button", "clear", "Clear the ticks");
			clear.type = "button";
			const boxes = all(".amount", part).map((row) => {
				const label = make("label", "tick");
				const box = make("input");
				box.type = "checkbox";
				box.setAttribute("aria-label", row.querySelector(".name").textContent + " is in");
				const key = "tick " + row.dataset.tick;
				const mark = (on) => { box.checked = on; row.classList.toggle("done", on); };
				box.addEventListener("change", () => {
					mark(box.checked);
					memory.set(key, box.checked ? "1" : null);
					clear.hidden = !boxes.some((b) => b.box.checked);
				});
				mark(memory.get(key) === "1");
				label.append(box);
				row.prepend(label);
				return { box, mark, key };
			});
			clear.hidden = !boxes.some((b) => b.box.checked);
			clear.addEventListener("click", () => {
				boxes.forEach((b) => { b.mark(false); memory.set(b.key, null); });
				clear.hidden = true;
				boxes[0].box.focus();
			});
			part.append(clear);
		});
	}

	// Choices: one option of each; totals and cautions follow.
	function pick(block, choice, option) {
		all(".choice", block).filter((c) => c.dataset.choice === choice).forEach((c) => {
			all(".amount", c).forEach((row) => row.classList.toggle("other", row.dataset.option !== option));
			all(".switch input", c).forEach((radio) => { radio.checked = radio.value === option; });
			c.dataset.picked = option;
		});
		all(".variants", block).forEach(follow);
	}
	function follow(variants) {
		const near = variants.closest(".size");
		const choices = near && near.querySelector(".choice") ? near : variants.closest(".block");
		const picks = new Map(all(".choice", choices).map((c) => [c.dataset.choice, c.dataset.picked]));
		const wanted = Array.from(picks.values()).sort().join(" ");
		const items = all(":scope > .variant", variants);
		const chosen = items.find((v) => v.dataset.with.split(" ").sort().join(" ") === wanted) || items[0];
		variants.classList.add("live");
		items.forEach((v) => v.classList.toggle("shown", v === chosen));
	}
	function picks(block) {
		return Array.from(new Set(all(".choice", block).map((c) => c.dataset.picked)));
	}
	function choices() {
		all(".choice").forEach((c, place) => {
			const block = c.closest(".block");
			const group = make("div", "switch");
			all(".amount", c).forEach((row) => {
				const label = make("label", "", row.querySelector(".name").textContent);
				const radio = make("input");
				radio.type = "radio";
				radio.name = "choice-" + place;
				radio.value = row.dataset.option;
				radio.addEventListener("change", () => {
					memory.set("pick " + block.dataset.block + "/" + c.dataset.choice, radio.value);
					pick(block, c.dataset.choice, radio.value);
					if (block.querySelector(".own")) tell({ with: picks(block).join(",") }, "");
				});
				label.prepend(radio);
				group.append(label);
			});
			c.insertBefore(group, c.querySelector(".rows"));
		});
		all(".block").forEach((block) => all(".choice", block).forEach((c) => {
			const options = all(".amount", c).map((row) => row.dataset.option);
			const kept = memory.get("pick " + block.dataset.block + "/" + c.dataset.choice);
			const shared = block.querySelector(".own") && (asked.get("with") || "").split(",").find((id) => options.includes(id));
			pick(block, c.dataset.choice, shared || (options.includes(kept) ? kept : options[0]));
		}));
	}

	// Listings: copied by a button, or selected where the clipboard is closed.
	function copying() {
		all(".listing").forEach((part) => {
			const button = make("button", "copy", "Copy");
			const said = make("span", "remark");
			said.setAttribute("role", "status");
			button.type = "button";
			button.addEventListener("click", () => {
				const code = part.querySelector("code");
				const select = () => {
					getSelection().selectAllChildren(code);
					said.textContent = " Selected: copy it with your keys.";
				};
				if (!navigator.clipboard) { select(); return; }
				navigator.clipboard.writeText(code.textContent).then(() => { said.textContent = " Copied."; }, select);
			});
			part.append(button, said);
		});
	}

	// A card's stamp, from its code: whether the numbers are still those, and what became different.
	function stamped() {
		const known = document.getElementById("stamps"), stamp = asked.get("stamp");
		if (!known || !stamp) return;
		const stamps = JSON.parse(known.textContent), was = Object.hasOwn(stamps.was, stamp) && stamps.was[stamp];
		const strip = make("div", "strip");
		strip.setAttribute("role", "status");
		if (stamp === stamps.now) strip.append(make("p", "", "Your card is current: its numbers are those of this page."));
		else if (!was) strip.append(make("p", "", "The stamp of your card is not in this handbook's history. Use the numbers below, and print a new card."));
		else {
			strip.append(make("p", "", "Your card holds numbers of " + was.on + ". Since then these became different:"));
			const list = make("ul");
			(was.changes || []).forEach((change) => list.append(make("li", "", change)));
			strip.append(list);
		}
		document.querySelector(".head").after(strip);
	}

	// Today's part of the season. Days are month and day, or whole dates; a span may pass the new year.
	function season() {
		const now = new Date();
		const two = (n) => String(n).padStart(2, "0");
		const day = two(now.getMonth() + 1) + "-" + two(now.getDate());
		all(".season [data-from]").forEach((item) => {
			const from = item.dataset.from, to = item.dataset.to;
			const today = from.length > 5 ? now.getFullYear() + "-" + day : day;
			const within = from <= to ? today >= from && today <= to : today >= from || today <= to;
			item.classList.toggle("today", within);
		});
		const whole = now.getFullYear() + "-" + day;
		all(".season").forEach((list) => {
			const coming = all("[data-from]", list).find((item) => item.dataset.from.length > 5 && item.dataset.from > whole);
			if (coming && !list.querySelector(".today")) coming.classList.add("next");
		});
	}

	// Paper: links out carry a short address.
	function paper() {
		all("main a[href^=http]").forEach((link) => {
			const short = link.href.replace(/^https?:\/\/(www\.)?/, "").replace(/\/(index\.html)?$/, "");
			if (!link.textContent.includes(short)) link.dataset.short = short;
		});
	}

	// Without a signal: what was kept is shown. From a folder on disk there is no need, and no way.
	function offline() {
		if (!/^https?:$/.test(location.protocol) || !("serviceWorker" in navigator)) return;
		navigator.serviceWorker.register(new URL("offline.js", ours)).catch(() => { /* the host forbids it: the site works as ever */ });
	}

	root.classList.add("live");
	const useOwn = ownPot(); // first, so that its rows get ticks, choices and spoons as the others do
	ticks();
	choices();
	spoons();
	sizes();
	if (useOwn) useOwn();
	stamped();
	copying();
	season();
	paper();
	offline();
})();
