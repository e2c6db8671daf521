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
