// A service worker that takes itself and what was kept away. `python -m docs serve` answers with it
// in place of the real one, so that an author always sees what was just built.

addEventListener('install', () => skipWaiting());
addEventListener('activate', (event) => event.waitUntil(remove()));

async function remove() {
  const names = await caches.keys();
  const ours = names.filter((name) => name.startsWith(`doughwater ${registration.scope} `));
  await Promise.all(ours.map((name) => caches.delete(name)));
  await registration.unregister();
  for (const page of await clients.matchAll({type: 'window'})) page.navigate(page.url);
}
