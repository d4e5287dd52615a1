// Runs in Node as the site is built: packs files as Zstandard (RFC 8878), each beside itself.
//
//     node pack.mjs LEVEL FILE…

import fs from 'node:fs';
import {constants, zstdCompressSync} from 'node:zlib';

const [, , level, ...files] = process.argv;
// How far back a repetition is found, as a power of two: the browser holds as much while it unpacks. Four times as much
// would spare a hundredth of the bytes.
const WINDOW = 22;

for (const file of files) {
  const params = {[constants.ZSTD_c_compressionLevel]: Number(level), [constants.ZSTD_c_windowLog]: WINDOW};
  fs.writeFileSync(`${file}.zstd`, zstdCompressSync(fs.readFileSync(file), {params}));
}
