// In each page of the writers' server: shows what was saved as soon as it is built, or what is wrong with it.

const since = new URL(import.meta.url).searchParams.get('since') ?? '0';
const KEPT = 'doughwater/writing';

/** @type {EventSource | null} */
let news = null;

/** Only a page that is looked at listens: a browser opens few lines to one server. */
function listen() {
  news?.close();
  news = null;
  if (document.hidden) return;
  const page = location.pathname.slice(1);
  news = new EventSource(`/-writing/news?${new URLSearchParams({page, since})}`);
  news.onmessage = ({data}) => hear(JSON.parse(data));
}

/** @param {{isOther: boolean, trouble: string}} tidings */
function hear({isOther, trouble}) {
  if (isOther) showAnew();
  else tellTrouble(trouble);
}

/** What was typed is in the address, on the device, or kept by the browser; which box one was in is not. */
function showAnew() {
  sessionStorage.setItem(KEPT, document.activeElement?.id ?? '');
  location.reload();
}

function goBack() {
  document.getElementById(sessionStorage.getItem(KEPT) ?? '')?.focus({preventScroll: true});
  sessionStorage.removeItem(KEPT);
}

let told = '';

/** @param {string} trouble what stopped the build, once; nothing when it is mended */
function tellTrouble(trouble) {
  if (trouble === told) return;
  told = trouble;
  document.querySelector('.writing-trouble')?.remove();
  if (!trouble) return;
  const said = document.createElement('pre');
  said.className = 'writing-trouble';
  said.setAttribute('role', 'alert');
  said.style.cssText =
    'position: fixed; inset: auto 0 0; z-index: 99; margin: 0; padding: 1em; max-height: 50%; overflow: auto; ' +
    'white-space: pre-wrap; font: 16px/1.4 monospace; color: #fff; background: #8c1d18';
  said.textContent = `${trouble}\n\nThe page is shown as it was before. It follows when this is mended.`;
  document.body.append(said);
}

listen();
document.addEventListener('visibilitychange', listen);
addEventListener('pagehide', () => news?.close());
if (document.readyState === 'complete') goBack();
else addEventListener('load', goBack);
