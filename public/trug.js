/* Chooses what is shown; every number is in the page already. Classic script: it runs from a folder too. */
(function () {
	"use strict";

	const root = document.documentElement;
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
	function fromAddress() {
		let at = null;
		try { at = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch (malformed) { return; }
		const size = at && at.closest(".size");
		if (!size) return;
		show(size.closest(".sizes"), size, true);
		at.scrollIntoView();
	}
	function sizes() {
		all(".sizes").forEach((part) => {
			const first = part.querySelector(".size");
			if (!first) return;
			part.classList.add("live");
			show(part, first, false);
			part.addEventListener("click", (event) => {
				const link = event.target.closest(".picks a");
				if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
				event.preventDefault();
				show(part, target(link), true);
				history.replaceState(null, "", link.getAttribute("href"));
			});
		});
		fromAddress();
		window.addEventListener("hashchange", fromAddress);
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
				});
				label.prepend(radio);
				group.append(label);
			});
			c.insertBefore(group, c.querySelector(".rows"));
		});
		all(".block").forEach((block) => all(".choice", block).forEach((c) => {
			const options = all(".amount", c).map((row) => row.dataset.option);
			const kept = memory.get("pick " + block.dataset.block + "/" + c.dataset.choice);
			pick(block, c.dataset.choice, options.includes(kept) ? kept : options[0]);
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
	}

	// Paper: everything folded is opened, and links out carry a short address.
	function paper() {
		let opened = [];
		window.addEventListener("beforeprint", () => {
			opened = all("details:not([open])");
			opened.forEach((d) => { d.open = true; });
		});
		window.addEventListener("afterprint", () => opened.forEach((d) => { d.open = false; }));
		all("main a[href^=http]").forEach((link) => {
			const short = link.href.replace(/^https?:\/\/(www\.)?/, "").replace(/\/(index\.html)?$/, "");
			if (!link.textContent.includes(short)) link.dataset.short = short;
		});
	}

	root.classList.add("live");
	ticks();
	choices();
	spoons();
	sizes();
	copying();
	season();
	paper();
})();
