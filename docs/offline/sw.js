// The service worker: keeps one whole version of the site, and answers from it and from nothing else.
// The build writes some lines above these: VERSION, a name made from every file of the site; NOWHERE, the path
// of its page for wrong addresses; FILES, the path and the SHA-256 hash of each.
//
// A version is fetched into a cache of its own. Each file must have its hash, so a site that is just
// being uploaded, or a line that breaks, leaves the older version as it is. A new version waits until
// no page of the older one is open, or until the reader asks for it in the only page that is.

const SCOPE = registration.scope;
const FAMILY = `doughwater ${SCOPE} `;
const CACHE = FAMILY + VERSION;
// Written into a cache when all the rest is there.
const LIST = address('offline/list.json');
const AT_ONCE = 4;

/** @param {string} path */
function address(path) {
  return new URL(path, SCOPE).href;
}

addEventListener('install', (event) => event.waitUntil(store()));
addEventListener('activate', (event) => event.waitUntil(dropOlder()));
addEventListener('fetch', (event) => {
  const {method, mode, url} = event.request;
  const path = method === 'GET' ? pathOf(url) : undefined;
  if (path !== undefined) event.respondWith(answer(event.request, path));
  else if (method === 'GET' && mode === 'navigate') event.respondWith(fetch(event.request).catch(leadOn));
});
/** What a page may ask. @type {Record<string, (event: ExtendableMessageEvent) => Promise<unknown>>} */
const ASKED = {stored: isStored, claim: claimSameVersion, 'take over': takeOverAlone};
addEventListener('message', (event) => {
  const does = ASKED[event.data?.ask];
  if (does) event.waitUntil(does(event).then((result) => event.ports[0]?.postMessage(result)));
});

// Keeping.

/** Fetch what is missing. After a broken line what came is kept for the next time. */
async function store() {
  const cache = await caches.open(CACHE);
  const older = await olderCopies();
  const missing = Object.entries(FILES);
  const keepOne = async () => {
    for (let next = missing.pop(); next; next = missing.pop()) await keep(cache, older, ...next);
  };
  const done = await Promise.allSettled(Array.from({length: AT_ONCE}, keepOne));
  const failed = done.find((each) => each.status === 'rejected');
  if (failed) throw await givenUp(/** @type {PromiseRejectedResult} */ (failed).reason);
  await cache.put(LIST, new Response(JSON.stringify(FILES)));
}

/**
 * A store that takes no more gets its room back.
 * @param {unknown} reason
 */
async function givenUp(reason) {
  if (reason instanceof NotStored) await caches.delete(CACHE);
  return reason;
}

class NotStored extends Error {}

/**
 * @param {Cache} cache
 * @param {Map<string, {name: string, url: string}>} older
 * @param {string} path
 * @param {string} integrity
 */
async function keep(cache, older, path, integrity) {
  const url = address(path);
  if (await cache.match(url)) return;
  const copy = older.get(integrity);
  const kept = copy && (await caches.match(copy.url, {cacheName: copy.name, ignoreVary: true}));
  const response = kept ?? (await fetched(url, integrity));
  // To compare its hash the browser has read the whole file already, so this can only fail in the store.
  await cache.put(url, response).catch((error) => {
    throw new NotStored(error.message);
  });
}

/**
 * The file as this version has it; a file that changed on the way is refused by its hash.
 * @param {string} url
 * @param {string} integrity
 */
async function fetched(url, integrity) {
  const response = await fetch(url, {integrity, cache: 'no-cache', redirect: 'error'});
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response;
}

/** Where each file of the older versions is, by hash. Versions that never became whole are dropped. */
async function olderCopies() {
  const copies = new Map();
  for (const name of await otherCaches()) {
    const list = await caches.match(LIST, {cacheName: name});
    if (!list) await caches.delete(name);
    else for (const [path, hash] of Object.entries(await list.json())) copies.set(hash, {name, url: address(path)});
  }
  return copies;
}

async function otherCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(FAMILY) && name !== CACHE);
}

async function dropOlder() {
  await Promise.all((await otherCaches()).map((name) => caches.delete(name)));
}

// Answering.

/**
 * The path of a file of the site in the list; undefined for anything else. What follows a
 * question mark is the reader's, not the file's.
 * @param {string} url
 */
function pathOf(url) {
  const bare = url.replace(/[?#].*$/, '').replace(/(?<=\/)index\.html$/, '');
  if (!bare.startsWith(SCOPE)) return undefined;
  const path = bare.slice(SCOPE.length);
  return [path, `${path}/`].find((each) => Object.hasOwn(FILES, each));
}

/**
 * @param {Request} request
 * @param {string} path
 */
async function answer(request, path) {
  const url = address(path);
  const asked = new URL(request.url);
  if (path.endsWith('/') && !/\/(index\.html)?$/.test(asked.pathname)) return Response.redirect(url + asked.search);
  // Without its cache (a browser short of room drops it whole) a version lives on the network again.
  return (await caches.match(url, {cacheName: CACHE, ignoreVary: true})) ?? fetch(request);
}

/** Where nothing is kept and no network answers, the browser would only say that. */
function leadOn() {
  return Response.redirect(address(NOWHERE));
}

// Speaking with the pages.

/** Whether the site is kept whole; a store that lost it is filled again first. */
async function isStored() {
  try {
    if (!(await caches.match(LIST, {cacheName: CACHE}))) await store();
    return true;
  } catch {
    return false;
  }
}

/** The open pages that came from the network with the very files of this version. */
const same = new Set();

/**
 * Take in the pages that were open before this worker: only when all of them are of this version.
 * @param {ExtendableMessageEvent} event
 */
async function claimSameVersion(event) {
  if (event.data.version === VERSION) same.add(/** @type {Client} */ (event.source).id);
  const [all, ours] = await Promise.all([pages({includeUncontrolled: true}), pages({})]);
  const known = new Set([...same, ...ours]);
  if (all.every((id) => known.has(id))) await clients.claim();
  return true;
}

/** Replace the older version, if the page that asks is the only one open. */
async function takeOverAlone() {
  if ((await pages({includeUncontrolled: true})).length > 1) return false;
  await skipWaiting();
  return true;
}

/** @param {ClientQueryOptions} options */
async function pages(options) {
  return (await clients.matchAll({type: 'window', ...options})).map(({id}) => id);
}
