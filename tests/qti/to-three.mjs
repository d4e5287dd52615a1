// Every item of QTI 2.1 in a folder, brought to 3.0 by a converter made elsewhere: node to-three.mjs FROM INTO
import {convertQti2toQti3} from '@citolab/qti-convert/qti-convert-node';
import {mkdirSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';

const [, , from, into] = process.argv;
mkdirSync(into, {recursive: true});
for (const name of readdirSync(from)) {
  writeFileSync(`${into}/${name}`, await convertQti2toQti3(readFileSync(`${from}/${name}`, 'utf8')));
}
