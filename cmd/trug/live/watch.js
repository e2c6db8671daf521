/* Keeps a page up to date while "trug watch" runs. Only its server hands this out; no built page holds it. */
(function () {
	"use strict";

	const edition = document.currentScript.dataset.edition;
	const key = "trug watch place";
	let following = false; // to the next edition; any other way of leaving is the browser's to remember

	// The place is the last heading or other named thing above the top edge, and how far below it the edge is: what
	// grows above it does not move the page. Open folds stay open.
	function keep() {
		const above = Array.from(document.querySelectorAll("main [id]")).filter((node) => node.getClientRects().length && node.getBoundingClientRect().top <= 1);
		const last = above[above.length - 1];
		const folds = Array.from(document.querySelectorAll("details"), (fold) => fold.open);
		try {
			sessionStorage.setItem(key, JSON.stringify({ page: location.pathname, id: last ? last.id : "", below: last ? last.getBoundingClientRect().top : 0, x: scrollX, y: scrollY, folds }));
			history.scrollRestoration = "manual";
			following = true;
		} catch (refused) { /* the browser keeps the place as well as it can */ }
	}
	function back() {
		let kept = null;
		try {
			kept = JSON.parse(sessionStorage.getItem(key));
			sessionStorage.removeItem(key);
		} catch (refused) { /* nothing was kept */ }
		if (!kept || kept.page !== location.pathname) return;
		const folds = document.querySelectorAll("details");
		if (folds.length === kept.folds.length) folds.forEach((fold, i) => { fold.open = kept.folds[i]; });
		const mark = kept.id && document.getElementById(kept.id);
		const y = mark && mark.getClientRects().length ? scrollY + mark.getBoundingClientRect().top - kept.below : kept.y;
		window.scrollTo({ left: kept.x, top: y, behavior: "instant" });
	}

	function make(name, className, text) {
		const node = document.createElement(name);
		node.className = className;
		node.textContent = text;
		return node;
	}
	function entry(fault) {
		const item = document.createElement("li");
		if (fault.place) item.append(make("span", "where", fault.place), ": ");
		item.append(make("span", "what", fault.message));
		if (fault.line.trim()) item.append(make("pre", "line", fault.line));
		(fault.hints || []).forEach((hint) => item.append(make("p", "hint", hint)));
		return item;
	}
	function show(faults) {
		const old = document.querySelector(".unbuilt");
		if (old) old.remove();
		if (!faults.length) return;
		const strip = document.createElement("section");
		strip.className = "unbuilt";
		strip.setAttribute("role", "alert");
		strip.append(make("p", "how-many", (faults.length === 1 ? "1 fault" : faults.length + " faults") + ": this page is the last one without"));
		const list = document.createElement("ol");
		list.append(...faults.map(entry));
		strip.append(list);
		document.body.prepend(strip);
	}

	let heard = ""; // the last news, as they were sent
	function follow(text) {
		if (text === heard) return;
		heard = text;
		const news = JSON.parse(text);
		show(news.faults);
		if (news.edition === edition) return;
		keep();
		location.reload();
	}
	// A browser opens only a few connections to one server, so one page listens and tells the others. When it goes,
	// another takes its place. A page that opens asks for the last news by saying nothing.
	function listen() {
		if (!navigator.locks || !window.BroadcastChannel) return hear(follow);
		const pages = new BroadcastChannel("trug watch");
		let listens = false;
		pages.onmessage = (event) => {
			if (event.data) follow(event.data);
			else if (listens && heard) pages.postMessage(heard);
		};
		pages.postMessage("");
		navigator.locks.request("trug watch", () => new Promise(() => {
			listens = true;
			hear((text) => {
				pages.postMessage(text);
				follow(text);
			});
		}));
	}
	function hear(tell) {
		new EventSource("/.trug/events").onmessage = (event) => tell(event.data);
	}

	// A script that keeps pages for reading without a signal may be left from another server at this address.
	async function clear() {
		if (!("serviceWorker" in navigator)) return;
		const left = await navigator.serviceWorker.getRegistrations();
		await Promise.all(left.map((one) => one.unregister()));
		const kept = (await caches.keys()).filter((name) => name.startsWith("trug "));
		await Promise.all(kept.map((name) => caches.delete(name)));
		if (left.length && navigator.serviceWorker.controller) location.reload();
	}

	window.addEventListener("pagehide", () => { if (!following) history.scrollRestoration = "auto"; });
	window.addEventListener("load", () => { back(); clear().catch(() => {}).then(listen); });
})();
