// Starts Debian's chromium for the checks. The flags keep it from asking anything of the network.
import puppeteer from "puppeteer-core";

export function startBrowser() {
	return puppeteer.launch({
		executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
		args: ["--no-sandbox", "--disable-quic", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-gpu", "--no-first-run"],
		protocolTimeout: 300_000,
	});
}

// eachInTurn runs work(item, tab) for every item, two tabs at a time. make prepares a fresh tab.
export async function eachInTurn(browser, items, make, work) {
	const left = [...items];
	const lane = async () => {
		while (left.length) {
			const item = left.shift();
			const tab = await browser.newPage();
			try {
				await make(tab);
				await work(item, tab);
			} finally {
				await tab.close();
			}
		}
	};
	await Promise.all([lane(), lane()]);
}
