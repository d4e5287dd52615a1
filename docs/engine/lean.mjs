// Runs in Node as the site is built: Pyodide's WebAssembly and its glue without what no page can reach. As they come,
// they hold all that some package might want: drawing, sound, four thousand functions by name.
//
//     node lean.mjs PYODIDE READERS OUT
//
// READERS is a file with all texts that may name something of Pyodide's module. What they or the glue's own statements
// name is kept, what that names in turn, and of the WebAssembly what is exported by such a name, what is in the table
// of functions, and what those call.

import fs from 'node:fs';
import path from 'node:path';

import {parse} from 'acorn';

import {Wasm} from './functions.mjs';

const [, , pyodide, readers, out] = process.argv;
const GLUE = 'pyodide.asm.mjs';
const WASM = 'pyodide.asm.wasm';
// The functions of the glue whose statements are each about one export, and the list of what the WebAssembly imports.
const [EXPORTS, CONVERSIONS, IMPORTS] = ['assignWasmExports', 'applySignatureConversions', 'wasmImports'];
const EXPORTED = /wasmExports\["([^"]+)"\]/;
// Functions that only packages ask for by name: they are null where none is.
const [ASKED_BY_NAME, NONE_NEEDED] = ['new Proxy(new Set([]),GOTHandler)', 'new Proxy({has:()=>true},GOTHandler)'];
// To make these does nothing else, so they can be left out.

const NO_EFFECT = ['FunctionExpression', 'ArrowFunctionExpression', 'ClassExpression', 'Literal', 'ObjectExpression', 'ArrayExpression', 'Identifier'];

/**
 * A piece of the glue that is kept or left out. `names` are those under which others reach it; one of a member has a
 * dot before it. A piece without any is always kept. `uses` are the names in it; `of` is the export that it is about.
 * @typedef {{start: number, end: number, names?: string[], uses: Set<string>, of?: string, kept?: true}} Piece
 */

const text = fs.readFileSync(path.join(pyodide, GLUE), 'utf8');
const wasm = new Wasm(fs.readFileSync(path.join(pyodide, WASM)));
const exported = new Map(wasm.exported.map((each) => [each.name, each]));

/** @type {Piece[]} */
const pieces = [];
/** Statements that declare several pieces. @type {{start: number, end: number, kind: string, pieces: Piece[]}[]} */
const declarations = [];
/** What the WebAssembly imports, as the glue lists it. @type {Map<string, any>} */
const imports = new Map();

for (const statement of bodyOf(parse(text, {ecmaVersion: 'latest', sourceType: 'module'}))) takeApart(statement);
const byName = Map.groupBy(
  pieces.flatMap((piece) => (piece.names ?? []).map((name) => ({name, piece}))),
  ({name}) => name,
);

const names = new Set([EXPORTS, CONVERSIONS]);
const functions = new Set();
const kept = new Set();
/** @type {number[]} */
const reached = [...wasm.table];
for (const [name] of fs.readFileSync(readers, 'utf8').matchAll(/[\w$]+/g)) keepName(`.${name}`);
for (const piece of pieces) if (!piece.names) keep(piece);
for (let next = reached.pop(); next !== undefined; next = reached.pop()) keepFunction(next);

fs.writeFileSync(path.join(out, GLUE), leanGlue());
fs.writeFileSync(path.join(out, WASM), wasm.only(functions, kept));

/** @param {any} program */
function bodyOf(program) {
  const main = program.body.find((/** @type {any} */ node) => node.type === 'FunctionDeclaration');
  const found = new Set(main.body.body.map((/** @type {any} */ node) => node.id?.name));
  if (![EXPORTS, CONVERSIONS].every((name) => found.has(name)) || text.split(ASKED_BY_NAME).length !== 2) {
    throw new Error(`${GLUE} of this Pyodide is not made as lean.mjs knows it.`);
  }
  return main.body.body;
}

/** @param {any} statement one of the glue's own, as pieces */
function takeApart(statement) {
  const {type, id, start, end, expression} = statement;
  if (id?.name === EXPORTS) return statement.body.body.forEach(takeExport);
  if (id?.name === CONVERSIONS) return statement.body.body.forEach(takeConversion);
  if (type === 'FunctionDeclaration' || type === 'ClassDeclaration') {
    pieces.push({start, end, names: [id.name], uses: used([statement.params, statement.superClass, statement.body])});
  } else if (type === 'VariableDeclaration') {
    const declared = statement.declarations.map(takeDeclared);
    declarations.push({start, end, kind: statement.kind, pieces: declared});
  } else {
    const names = type === 'ExpressionStatement' && attachedTo(expression);
    pieces.push(names ? {start, end, names, uses: used(expression.right)} : {start, end, uses: used(statement)});
  }
}

/**
 * @param {any} declared
 * @returns {Piece}
 */
function takeDeclared({id, init, start, end}) {
  /** @type {Piece} */
  const piece = {start, end, uses: new Set()};
  if (id.name === IMPORTS) {
    for (const property of init.properties) imports.set(property.key.name ?? property.key.value, property);
    return piece;
  }
  if (id.type === 'Identifier' && (!init || NO_EFFECT.includes(init.type))) piece.names = [id.name];
  piece.uses = used(piece.names ? init : [id, init]);
  pieces.push(piece);
  return piece;
}

/**
 * @param {any} expression
 * @returns {string[] | undefined} which names a statement belongs to: `Module["x"] = x` to a member's, `x.y = …` to x's
 */
function attachedTo({type, left, right}) {
  if (type !== 'AssignmentExpression' || left.type !== 'MemberExpression' || left.object.type !== 'Identifier') return;
  if (left.object.name !== 'Module') return NO_EFFECT.includes(right.type) ? [left.object.name] : undefined;
  return left.computed && right.type === 'Identifier' ? [`.${left.property.value}`] : undefined;
}

/** @param {any} statement `_x = Module["_x"] = wasmExports["x"]` */
function takeExport({start, end, expression}) {
  const of = exportIn(start, end);
  const names = [`.${of}`];
  for (let each = expression; each.type === 'AssignmentExpression'; each = each.right) {
    names.push(each.left.name ?? `.${each.left.property.value}`);
  }
  // What it is assigned to is declared elsewhere.
  pieces.push({start, end, names, uses: new Set(names.filter((name) => !name.startsWith('.'))), of});
}

/** @param {any} statement what wraps an export, or a way of wrapping */
function takeConversion(statement) {
  const {start, end, type} = statement;
  const wraps = type === 'ExpressionStatement' && EXPORTED.test(text.slice(start, end));
  if (wraps) pieces.push({start, end, names: [`.${exportIn(start, end)}`], uses: new Set()});
  else pieces.push({start, end, uses: used(statement)});
}

/**
 * @param {number} start
 * @param {number} end
 */
function exportIn(start, end) {
  const name = EXPORTED.exec(text.slice(start, end))?.[1];
  if (!name || !exported.has(name)) throw new Error(`No export is in “${text.slice(start, end)}”.`);
  return name;
}

/**
 * All names in a piece of code, whoever they belong to; those of members, and words in quotes, with a dot.
 * @param {any} node
 * @param {Set<string>} [found]
 */
function used(node, found = new Set()) {
  if (Array.isArray(node)) {
    for (const each of node) used(each, found);
    return found;
  }
  if (!node?.type) return found;
  if (node.type === 'Identifier') found.add(node.name);
  else if (node.type === 'Literal') found.add(`.${node.value}`);
  else {
    // A plain name after a dot or before a colon.
    const plain = node.computed ? undefined : node.type === 'MemberExpression' ? 'property' : 'key';
    if (plain && node[plain]) found.add(`.${node[plain].name ?? node[plain].value}`);
    for (const [part, inner] of Object.entries(node)) if (part !== plain) used(inner, found);
  }
  return found;
}

/** @param {Piece} piece */
function keep(piece) {
  if (piece.kept) return;
  piece.kept = true;
  if (piece.of) keepExport(piece.of);
  for (const name of piece.uses) keepName(name);
}

/** @param {string} name */
function keepName(name) {
  if (names.has(name)) return;
  names.add(name);
  for (const {piece} of byName.get(name) ?? []) keep(piece);
  // Whoever has it in quotes may ask for it.
  if (name.startsWith('.')) keepExport(name.slice(1));
}

/** @param {string} name */
function keepExport(name) {
  const found = exported.get(name);
  if (!found || kept.has(name)) return;
  kept.add(name);
  keepName(`.${name}`);
  if (found.kind === 0) reached.push(found.index);
}

/** @param {number} index */
function keepFunction(index) {
  if (functions.has(index)) return;
  functions.add(index);
  if (index >= wasm.imported.length) {
    reached.push(...wasm.called(index));
    return;
  }
  const found = imports.get(wasm.imported[index]);
  if (!found) throw new Error(`The glue has no ${wasm.imported[index]}.`);
  for (const name of used(found.value)) keepName(name);
}

/** The glue without what is left out. */
function leanGlue() {
  const single = new Set(pieces);
  for (const {pieces} of declarations) for (const piece of pieces) single.delete(piece);
  const changed = [...single].filter((piece) => !piece.kept).map(({start, end}) => ({start, end, by: ''}));
  for (const {start, end, kind, pieces} of declarations) {
    const written = pieces.map(declaredAs).filter(Boolean).join(',');
    changed.push({start, end, by: written && `${kind} ${written};`});
  }
  let [lean, at] = ['', 0];
  for (const {start, end, by} of changed.sort((a, b) => a.start - b.start)) {
    lean += text.slice(at, start) + by;
    at = end;
  }
  return (lean + text.slice(at)).replace(ASKED_BY_NAME, NONE_NEEDED);
}

/** @param {Piece} piece */
function declaredAs(piece) {
  if (piece.kept) return text.slice(piece.start, piece.end);
  return piece.names ? '' : `nothing=()=>{},${IMPORTS}={${leanImports()}}`;
}

/** Each import must be there, though what no function reaches does nothing. */
function leanImports() {
  return wasm.imported
    .map((name, index) => {
      const {start, end} = imports.get(name) ?? {};
      return functions.has(index) && end ? text.slice(start, end) : `${JSON.stringify(name)}:nothing`;
    })
    .join(',');
}
