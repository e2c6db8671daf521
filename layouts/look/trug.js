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
		Object.entries(changes).forEach(([key, value]) => value ? asked.set(key, value) : asked.delete(key));
		try {
			history.replaceState(null, "", location.pathname + (asked.size ? "?" + asked : ""));
		} catch (refused) {
			if (anchor) history.replaceState(null, "", "#" + anchor);
		}
	}

	// My pot: a copy of the first size's rows, filled from the table in the page. Only the volume of the
	// shape is worked out here; every text was computed at build time.
	const perInch = 2.54;
	const volumes = { // cubic centimetres, of inside measures up to the fill line
		round: (m) => Math.PI * m.height / 12 * (m.top * m.top + m.top * m.base + m.base * m.base),
		trough: (m) => m.length * m.width * m.height,
		oval: (m) => Math.PI / 4 * m.length * m.width * m.height,
		litres: (m) => m.litres * 1000,
	};
	const fieldsOf = { litres: ["litres"], round: ["top", "base", "height"], trough: ["length", "width", "height"], oval: ["length", "width", "height"] };
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
		size.append(make("p", "remark"));
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
	function ownPot() {
		const form = document.querySelector(".own");
		if (!form) return;
		const part = form.closest(".sizes"), said = form.querySelector("[role=status]"), hint = said.textContent;
		const table = JSON.parse(form.querySelector("script").textContent);
		const mine = copyOfSize(part);
		const field = (name) => form.querySelector("[name=" + name + "]");
		// A round pot known by its top alone has the shape that the program assumes, where the form names one.
		const shares = { base: Number(form.dataset.base), height: Number(form.dataset.height) };
		const layout = () => {
			all("[data-for]", form).forEach((l) => { l.hidden = !l.dataset.for.split(" ").includes(field("shape").value); });
			field("unit").closest("label").hidden = field("shape").value === "litres";
			Object.keys(shares).forEach((name) => { field(name).placeholder = field("shape").value === "round" && shares[name] > 0 ? "if known" : ""; });
		};
		const assumed = (name) => field("shape").value === "round" && shares[name] > 0 && !field(name).value.trim();
		const number = (name) => assumed(name) ? number("top") * shares[name] : /^\d+([.,]\d+)?$/.test(field(name).value.trim()) ? Number(field(name).value.trim().replace(",", ".")) : NaN;
		// What the fields held before is no answer to what they hold now.
		const none = (why) => {
			said.textContent = why;
			go.hidden = true;
			if (mine.classList.contains("shown")) show(part, part.querySelector(".size"), false);
		};
		const follow = (byReader) => {
			layout();
			const shape = field("shape").value, inches = shape !== "litres" && field("unit").value === "in";
			const names = fieldsOf[shape], m = {};
			names.forEach((name) => { m[name] = number(name) * (inches ? perInch : 1); });
			const guessed = names.filter(assumed), given = names.filter((name) => !guessed.includes(name));
			if (given.some((name) => !field(name).value.trim())) { none(hint); return; }
			if (names.some((name) => !(m[name] > 0))) { none("Write each measure as a number above zero, such as 30 or 12.5."); return; }
			const at = Math.round(volumes[shape](m) / 10);
			if (at < table.from || at > table.to) { none("That makes " + at / 100 + " L. " + hint); return; }
			all(".amount", mine).forEach((row) => fillRow(row, table, at));
			const litres = guessed.length ? "about " + Number((at / 100).toPrecision(3)) + " L" : at / 100 + " L";
			mine.querySelector(".litres").textContent = litres;
			said.textContent = "Your pot holds " + litres + (guessed.length ? ", if it is of a usual shape: measure its " + guessed.join(" and ") + " to be nearer." : ".");
			go.hidden = false;
			mine.querySelector(".remark").replaceChildren("Compost on top, cautions and what it brings: see the nearest size, ", nearest(part, at / 100), ". The dose per litre is the same.");
			show(part, mine, true);
			if (byReader) tell({ pot: shape === "litres" ? at / 100 + "-l" : shape + "-" + (guessed.length === 2 ? given : names).map((n) => field(n).value.trim().replace(",", ".")).join("x") + "-" + field("unit").value }, "");
		};
		const asShared = (pot) => {
			const litres = /^([\d.]+)-l$/.exec(pot), shape = /^(round|trough|oval)-([\d.]+)(?:x([\d.]*)x([\d.]*))?-(cm|in)$/.exec(pot);
			if (litres) {
				field("shape").value = "litres";
				field("litres").value = litres[1];
			}
			if (shape) {
				field("shape").value = shape[1];
				field("unit").value = shape[5];
				fieldsOf[shape[1]].forEach((name, i) => { field(name).value = shape[i + 2] || ""; });
			}
			if (litres || shape) follow(false);
		};
		const go = make("button", "go", "See the amounts");
		go.type = "button";
		go.hidden = true;
		go.addEventListener("click", () => reveal(mine));
		said.after(go);
		form.hidden = false;
		const sets = part.querySelector(".amounts").dataset.sets;
		if ((memory.get("spoons") || sets).startsWith("us")) field("unit").value = "in";
		layout();
		form.addEventListener("input", (event) => {
			if (event.target.name === "litres") field("shape").value = "litres"; // whatever it was: litres are enough
			follow(true);
		});
		form.addEventListener("keydown", (event) => {
			if (event.key === "Enter" && event.target.localName === "input" && !go.hidden) reveal(mine);
		});
		return () => {
			const pot = asked.get("pot"), size = pot && document.getElementById("for-" + pot);
			if (size && size.closest(".sizes") === part) show(part, size, true);
			else if (pot) asShared(pot);
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
