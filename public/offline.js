const version = "0dc818d2c92393d8", files = ["index.html","search-index.js","search.js","trug.css","trug.js","dates/index.html","pots/blue-tub/index.html","pots/clay-bowl/index.html","pots/deep-trough/index.html","pots/doorstep-pot/index.html","pots/fabric-bag-1/index.html","pots/fabric-bag-2/index.html","pots/half-barrel-1/index.html","pots/half-barrel-2/index.html","pots/herb-bowl-1/index.html","pots/herb-bowl-2/index.html","pots/index.html","pots/lemon-pail/index.html","pots/nursery-pot/index.html","pots/oval-tub/index.html","pots/rail-trough-1/index.html","pots/rail-trough-2/index.html","pots/rail-trough-3/index.html","pots/stair-tub-1/index.html","pots/stair-tub-2/index.html","pots/tall-tub/index.html","recipes/barrel-tomatoes/card/index.html","recipes/barrel-tomatoes/index.html","recipes/box-june/card/index.html","recipes/box-june/index.html","recipes/dress-by-depth/card/index.html","recipes/dress-by-depth/index.html","recipes/dress-by-share/card/index.html","recipes/dress-by-share/index.html","recipes/dress-by-volume/card/index.html","recipes/dress-by-volume/index.html","recipes/first-mix/card/index.html","recipes/first-mix/index.html","recipes/index.html","recipes/label-blend/card/index.html","recipes/label-blend/index.html","recipes/light-renewal/card/index.html","recipes/light-renewal/index.html","recipes/midsummer-dressing/card/index.html","recipes/midsummer-dressing/index.html","recipes/ph-lift/card/index.html","recipes/ph-lift/index.html","recipes/rail-greens/card/index.html","recipes/rail-greens/index.html","recipes/spring-tubs/card/index.html","recipes/spring-tubs/index.html","shopping/index.html","cupboard/index.html","how/balance/index.html","how/compost/index.html","how/dates/index.html","how/diary/index.html","how/dress/index.html","how/feed/index.html","how/index.html","how/mix/index.html","how/page/index.html","how/plan/index.html","how/reading/index.html","how/recipe/index.html","how/shopping/index.html","how/swap/index.html","how/topup/index.html","how/trial/index.html","how/weight/index.html","notes/bench/bag-labels/index.html","notes/bench/first-mix/index.html","notes/bench/mix-from-parts/index.html","notes/bench/take-care/index.html","notes/bench/top-dressing/index.html","notes/containers/balcony-weights/index.html","notes/containers/half-barrels/index.html","notes/containers/window-boxes/index.html","notes/feeding/is-it-right/index.html","notes/feeding/liquid-feed/index.html","notes/guide/a-first-recipe/index.html","notes/guide/bags-and-pots/index.html","notes/guide/how-to-write-values/index.html","notes/guide/kinds-of-block/index.html","notes/guide/numbers-in-sentences/index.html","notes/guide/publishing/index.html","notes/guide/sharing-a-recipe/index.html","notes/guide/your-own-dress/index.html","notes/heap/compost-heap/index.html","notes/index.html","notes/measures/lab-letter/index.html","notes/measures/lime-and-ash/index.html","notes/measures/weighed-cup/index.html","notes/season/diary-2025/index.html","notes/season/diary-2026/index.html","notes/season/plan-2027/index.html","notes/season/when-to-sow/index.html","notes/trials/kelp-trial/index.html","notes/tubs/leafy-troughs/index.html","notes/tubs/roots-and-herbs/index.html","notes/tubs/spring-renewal/index.html","plans/spring-2027/index.html","search/index.html","sources/index.html","trials/kelp-2026/index.html"];
/* Keeps the handbook readable without a signal. Its first line, with the version and the files, is put before it
   when the site is built: a new build is a new version. */
const cacheName = "trug " + version;
const place = (file) => new URL(file, self.registration.scope).href;

// plain drops that an answer came by a detour: some hosts send "x/index.html" on to "x/", and a browser refuses to
// show a page whose kept answer says so.
async function plain(answer) {
	return answer.redirected ? new Response(await answer.blob(), { status: answer.status, headers: answer.headers }) : answer;
}

// fill fetches files into the cache; one that fails is left to its first visit.
async function fill(addresses) {
	const cache = await caches.open(cacheName);
	await Promise.all(addresses.map(async (address) => {
		try {
			const fresh = await fetch(new Request(address, { cache: "reload" }));
			if (fresh.ok) await cache.put(address, await plain(fresh));
		} catch (offline) { /* later */ }
	}));
}

// renew takes over what an earlier version held beside its own list, fetched anew, and drops that version.
async function renew() {
	const mine = (await caches.keys()).filter((name) => name.startsWith("trug ") && name !== cacheName);
	const cache = await caches.open(cacheName);
	for (const name of mine) {
		for (const request of await (await caches.open(name)).keys()) {
			if (request.url.startsWith(self.registration.scope) && !(await cache.match(request))) await fill([request.url]);
		}
		await caches.delete(name);
	}
	await self.clients.claim();
}

// answer asks the network first, so that a page is never older than the signal allows, and keeps what it gets.
async function answer(request) {
	const address = new URL(request.url);
	address.search = address.hash = "";
	if (address.href.endsWith("/")) address.href += "index.html";
	const cache = await caches.open(cacheName);
	try {
		const fresh = await fetch(request);
		if (fresh.ok && fresh.type === "basic") await cache.put(address.href, await plain(fresh.clone()));
		return fresh;
	} catch (offline) {
		return (await cache.match(address.href)) || (request.mode === "navigate" && (await cache.match(place("index.html")))) || Response.error();
	}
}

self.addEventListener("install", (event) => event.waitUntil(fill(files.map(place)).then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(renew()));
self.addEventListener("fetch", (event) => {
	if (event.request.method === "GET" && event.request.url.startsWith(self.registration.scope)) event.respondWith(answer(event.request));
});
