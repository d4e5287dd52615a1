// Files that a reader chooses, drops or pastes, each with its path from where it was chosen.

/** @typedef {import('../../engine/engine.js').Given} Given */

/**
 * @param {{folder?: boolean, accept?: string}} how
 * @param {(files: Given[]) => void} act
 */
export function choose({folder, accept}, act) {
  const picker = document.createElement('input');
  picker.type = 'file';
  picker.multiple = true;
  if (folder) picker.webkitdirectory = true;
  else if (accept) picker.accept = accept;
  picker.addEventListener('change', () => act([...(picker.files ?? [])].map(given)));
  picker.click();
}

/**
 * @param {File} file
 * @returns {Given}
 */
function given(file) {
  return {path: file.webkitRelativePath || file.name, content: file};
}

/**
 * What is dropped on a place, the files of folders too.
 * @param {HTMLElement} place
 * @param {(files: Given[]) => void} act
 */
export function takeDrops(place, act) {
  const over = (/** @type {boolean} */ is) => place.classList.toggle('dw-over', is);
  place.addEventListener('dragover', (event) => {
    event.preventDefault();
    over(true);
  });
  place.addEventListener('dragleave', () => over(false));
  place.addEventListener('drop', async (event) => {
    event.preventDefault();
    over(false);
    act(await dropped(event.dataTransfer));
  });
}

/**
 * @param {DataTransfer | null} transfer
 * @returns {Promise<Given[]>}
 */
async function dropped(transfer) {
  // The list is emptied as soon as the event is over: all its entries must be asked for at once.
  const entries = [...(transfer?.items ?? [])].map((item) => item.webkitGetAsEntry?.()).filter((entry) => entry !== null && entry !== undefined);
  if (!entries.length) return [...(transfer?.files ?? [])].map(given);
  return (await Promise.all(entries.map(filesOf))).flat();
}

/**
 * @param {FileSystemEntry} entry
 * @returns {Promise<Given[]>}
 */
async function filesOf(entry) {
  const path = entry.fullPath.replace(/^\//, '');
  if (entry.isFile) {
    const content = await new Promise((resolve, reject) => /** @type {FileSystemFileEntry} */ (entry).file(resolve, reject));
    return [{path, content}];
  }
  return (await Promise.all((await entriesOf(/** @type {FileSystemDirectoryEntry} */ (entry))).map(filesOf))).flat();
}

/**
 * A browser gives a folder's entries in portions; an empty one is the last.
 * @param {FileSystemDirectoryEntry} folder
 * @returns {Promise<FileSystemEntry[]>}
 */
async function entriesOf(folder) {
  const reader = folder.createReader();
  const found = [];
  for (;;) {
    const portion = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
    if (!portion.length) return found;
    found.push(...portion);
  }
}
