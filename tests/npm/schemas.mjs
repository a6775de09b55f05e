// SPDX-License-Identifier: MIT
// Published schemas judged by an independent validator (ajv, JSON Schema 2020-12): every example, every shipped legume and
// every kind of output validates; broken ones do not.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { execFileSync } from 'node:child_process';
import Ajv from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';

const program = process.argv[2], root = process.argv[3];
const ajv = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true, strictTypes: false });
addFormats(ajv);
const run = (...args) => { try { return execFileSync(program, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }); } catch (e) { return e.stdout; } };
const validate = Object.fromEntries(['recipe', 'kitchen', 'sheet', 'legume', 'diary', 'diary-batch', 'diary-export', 'lesson', 'explain', 'variation', 'best', 'comparison', 'ranking', 'figures', 'check', 'list', 'problems', 'show-legume', 'show-coagulant', 'show-extra', 'show-kitchen', 'diary-list', 'diary-compare', 'diary-told', 'coagulant', 'extra', 'equipment'].map((kind) => [kind, ajv.compile(JSON.parse(run('schema', kind)))]));

let passed = 0, failed = 0;
const check = (kind, name, document, good) => {
  const ok = validate[kind](document);
  if (ok === good) { passed += 1; return; }
  failed += 1;
  console.log(`FAILED ${kind} ${name}: ${ok ? 'was accepted' : ajv.errorsText(validate[kind].errors, { separator: '\n  ' })}`);
};
const read = (...parts) => JSON.parse(fs.readFileSync(path.join(root, ...parts), 'utf8'));
const files = (...parts) => fs.readdirSync(path.join(root, ...parts)).filter((f) => f.endsWith('.json')).sort();

for (const f of files('examples', 'recipes')) {
  check('recipe', f, read('examples', 'recipes', f), true);
  for (const more of [[], ['--kitchen', path.join(root, 'examples', 'kitchens', 'canteen.json')], ['--units', 'us']])
    check('sheet', `${f} ${more.join(' ')}`, JSON.parse(run('sheet', path.join(root, 'examples', 'recipes', f), '--format', 'json', ...more)), true);
}
const first = path.join(root, 'examples', 'recipes', '01-chickpea.json');
// A batch in hand, at every point of it, and in trouble.
for (const told of [['soaked=1.7kg'], ['soaked=1.7kg', 'pulp=1.9kg', 'milk=5.2l'], ['stood=50min', 'depth=6cm', 'starch-layer=250g', 'brix=7'], ['to-95=40min', 'hold=15min', 'cooked-milk=4.6kg'], ['pour=78degC', 'coagulant=16g', 'ph=5.9'],
  ['curd=11.7kg', 'whey=3.4kg', 'blocks=4', 'height=24mm', 'curd-dry=17%', 'chilled=1.1kg']])
  check('sheet', `told ${told}`, JSON.parse(run('sheet', first, '--format', 'json', ...told.flatMap((t) => ['--measured', t]))), true);
for (const seen of ['whey=milky', 'curd=none', 'soak=sour']) check('sheet', `seen ${seen}`, JSON.parse(run('sheet', first, '--format', 'json', '--seen', seen)), true);
// A tree of every example, with integrals, roots and records.
for (const f of files('examples', 'recipes'))
  for (const figure of ['curd_mass_g', 'calcium_mg', 'after_pouring_c']) {
    const tree = JSON.parse(run('explain', path.join(root, 'examples', 'recipes', f), figure, '--format', 'json'));
    check('explain', `${figure} of ${f}`, tree, true);
    check('explain', `${figure} of ${f}, of no kind`, { ...tree, terms: [{ ...tree.terms[0], kind: 'dance' }] }, false);
  }
// What if: every kind of answer, with ranges, stops, problems and prices.
const priced = ['--price', 'chickpea-kabuli=3.10/kg'];
const kidney = path.join(root, 'examples', 'recipes', '07-kidney-white.json'), second = path.join(root, 'examples', 'recipes', '02-soy-nigari.json');
for (const more of [['--over', '/starch/time=10min:50min:20min'], ['--over', '/press/moisture=80%,95%'], ['--over', '/starch/times=1,2', '--over', '/strain/by=cloth-drain,hand-twist', '--ranges', 'off']])
  check('variation', more.join(' '), JSON.parse(run('vary', first, '--format', 'json', ...more)), true);
check('variation', 'stopped', JSON.parse(run('vary', kidney, '--format', 'json', '--over', '/cook/hold=2min,35min')), true);
const answer = JSON.parse(run('best', first, '--format', 'json', '--most', 'protein_per_cost', '--keep', 'starch_fraction<=0.03', '--let', '/starch/time=10min:2h', ...priced));
check('best', 'starch', answer, true);
check('best', 'without settings', { ...answer, settings: undefined }, false);
check('comparison', 'two', JSON.parse(run('compare', first, second, '--format', 'json')), true);
for (const more of [[], ['--by', 'protein_per_cost', ...priced]]) check('ranking', more.join(' '), JSON.parse(run('rank', 'legumes', '--format', 'json', ...more)), true);
const lines = execFileSync('sh', ['-c', `echo '{"legume":"soybean"}' | "$0" each --figures yield --ranges fast`, program], { encoding: 'utf8' });
check('figures', 'soy', JSON.parse(lines), true);
check('sheet', 'of a line', JSON.parse(execFileSync('sh', ['-c', `echo '{"legume":"soybean"}' | "$0" each`, program], { encoding: 'utf8' })), true);
for (const f of files('examples', 'kitchens')) check('kitchen', f, read('examples', 'kitchens', f), true);
for (const f of files('data', 'legumes')) {
  const record = read('data', 'legumes', f);
  check('legume', f, record, true);
  check('recipe', `starter of ${record.id}`, JSON.parse(run('new', 'recipe', '--legume', record.id, '--blocks', '3')), true);
  const broken = structuredClone(record);
  delete (broken.composition.protein.borrow ? broken.composition.protein : broken.composition.protein).source;
  delete broken.composition.protein.borrow;
  check('legume', `${f} without a source`, broken, false);
}
// The small answers, and records of other kinds.
for (const kind of ['coagulants', 'extras']) for (const f of files('data', kind)) check(kind.slice(0, -1), f, read('data', kind, f), true);
for (const f of files('data', 'equipment')) check('equipment', f, read('data', 'equipment', f), true), check('equipment', `${f} as another kind`, { ...read('data', 'equipment', f), kind: f.startsWith('gas') ? 'press' : 'hob', medium: 'fridge' }, false);
for (const what of ['legumes', 'coagulants', 'extras', 'blenders', 'strainers', 'presses', 'hobs', 'chillers', 'rules', 'measures', 'figures']) check('list', what, JSON.parse(run('list', what, '--format', 'json')), true);
check('list', 'refused', JSON.parse(run('list', 'legumes', '--refused', '--format', 'json')), true);
for (const f of files('data', 'legumes')) check('show-legume', f, JSON.parse(run('show', 'legume', f.slice(0, -5), '--format', 'json')), true);
for (const f of files('data', 'coagulants')) check('show-coagulant', f, JSON.parse(run('show', 'coagulant', f.slice(0, -5), '--format', 'json')), true);
for (const f of files('data', 'extras')) check('show-extra', f, JSON.parse(run('show', 'extra', f.slice(0, -5), '--format', 'json')), true);
for (const more of [[], ['--kitchen', path.join(root, 'examples', 'kitchens', 'canteen.json')]]) check('show-kitchen', more.join(' '), JSON.parse(run('show', 'kitchen', '--format', 'json', ...more)), true);
const checked = JSON.parse(run('check', first, path.join(root, 'tests/cli/files/kidney-short.json'), path.join(root, 'tests/cli/files/three-faults.json'), '--format', 'json'));
check('check', 'of three', checked, true);
check('check', 'a problem without its code', { ...checked, recipes: [{ file: 'x', problems: [{ what: 'x' }], cautions: [] }] }, false);
for (const args of [['sheet', path.join(root, 'tests/cli/files/three-faults.json')], ['sheet', 'nowhere.json'], ['show', 'legume', 'soybeen'], ['list', 'nothing']]) {
  let told = '';
  try { execFileSync(program, [...args, '--format', 'json'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] }); } catch (e) { told = e.stderr; }
  check('problems', args.join(' '), JSON.parse(told), true);
}
check('kitchen', 'starter', JSON.parse(run('new', 'kitchen')), true);
const recipe = read('examples', 'recipes', '01-chickpea.json');
check('recipe', 'unknown key', { ...recipe, sook: {} }, false);
check('recipe', 'bare number', { ...recipe, soak: { time: 16 } }, false);
check('recipe', 'no legume', { want: { blocks: 3 } }, false);
check('recipe', 'half a block', { ...recipe, want: { blocks: 2.5 } }, false);
check('kitchen', 'a price that is a bare number', { prices: { soybean: 3.1 } }, false);
check('kitchen', 'unknown rule set', { rule_set: 'none' }, false);
const sheet = JSON.parse(run('sheet', path.join(root, 'examples', 'recipes', '01-chickpea.json'), '--format', 'json'));
check('sheet', 'a stage missing', { ...sheet, stages: sheet.stages.slice(1) }, false);
check('sheet', 'no expectation', { ...sheet, expect: {} }, false);

// A diary in which every verb was used: its lines, a batch, and all of them.
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'curdwright-diary-'));
try {
  const book = path.join(folder, 'd.jsonl'), diary = (...args) => run('diary', ...args, '--diary', book);
  const [a, b] = [diary('start', path.join(root, 'examples', 'recipes', '01-chickpea.json'), '--at', '2027-03-05 18:00', '--kitchen', path.join(root, 'examples', 'kitchens', 'canteen.json')), diary('start', path.join(root, 'examples', 'recipes', '07-kidney-white.json'))].map((id) => id.trim());
  diary('add', a, 'soaked=1552g-412g', 'milk=3.1kg+2.9kg', 'soak-time=14h', 'brix=6.4', 'pulp-dry=24%', 'ph=5.8', 'pulp=1.2kg', 'whey=milky', 'note=salted');
  diary('add', a, 'pulp=withdrawn', 'soaked=1.2kg');
  diary('score', a, 'firmness=4', 'taste=2.5');
  diary('piece', a, 'A', 'mass=310g', 'aged=3d', 'frozen=no', 'way=pan', 'before=310g', 'after=262g', 'taste=4', 'note=golden');
  diary('score', `${a}:A`, 'firmness=1');
  fs.readFileSync(book, 'utf8').trim().split('\n').forEach((line, i) => check('diary', `line ${i + 1}`, JSON.parse(line), true));
  check('diary', 'an event of no kind', { ...JSON.parse(fs.readFileSync(book, 'utf8').split('\n')[2]), kind: 'dance' }, false);
  for (const id of [a, b]) check('diary-batch', id, JSON.parse(diary('show', id, '--format', 'json')), true);
  check('diary-list', 'two', JSON.parse(diary('list', '--format', 'json')), true);
  check('diary-told', 'a score', JSON.parse(diary('score', a, 'taste=4', '--format', 'json')), true);
  for (const pair of [[a, b], [a, `${a}:A`], [`${a}:A`, b]]) check('diary-compare', pair.join(' '), JSON.parse(diary('compare', ...pair, '--format', 'json')), true);
  diary('add', b, 'hold=20min', 'soaked=2.6kg', 'pulp=2.4kg', 'curd=1.2kg');
  check('diary-batch', 'one that is thrown out', JSON.parse(diary('show', b, '--format', 'json')), true);
  const learned = path.join(folder, 'k.json'), lesson = JSON.parse(run('learn', book, '-o', learned, '--format', 'json', '--explain', '--next'));
  check('lesson', 'with all that can be asked', lesson, true);
  check('lesson', 'without its findings', { ...lesson, findings: undefined, batches_count: 'two' }, false);
  check('kitchen', 'that has learned', JSON.parse(fs.readFileSync(learned, 'utf8')), true);
  check('kitchen', 'with an offset in words', { learned: { data: '1', model: '1', offsets: ['a'] } }, false);
  check('diary-export', 'both', JSON.parse(diary('export', '--format', 'json')), true);
  check('diary-export', 'a batch without a recipe', { schema: 'curdwright.diary-export/1', batches: [JSON.parse(diary('show', a, '--format', 'json'))] }, false);
} finally {
  fs.rmSync(folder, { recursive: true });
}

// The contract in one look: each stage's out is the next one's in; every numeric key ends in a unit.
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
sheet.stages.forEach((s, i) => {
  if (i === 0) return;
  const before = sheet.stages[i - 1].out;
  for (const [name, stream] of Object.entries(before)) if (same(s.in[name], stream)) passed += 1; else { failed += 1; console.log(`FAILED ${s.stage}: in is not the out of ${sheet.stages[i - 1].stage}`); }
});
const unit = /_(g|mg|ml|c|s|w|kpa|mm|kcal|kj|kwh|money|fraction|count|number|days|points|log10|mmol_per_l)$/;
const walk = (node, at) => {
  for (const [k, v] of Object.entries(node ?? {})) {
    if (typeof v === 'number' && !Array.isArray(node)) { if (unit.test(k) || ((k === 'low' || k === 'high') && unit.test(at))) passed += 1; else { failed += 1; console.log(`FAILED ${at}/${k}: a number without a unit in its key`); } }
    else if (v === null) { failed += 1; console.log(`FAILED ${at}/${k}: null`); }
    else if (typeof v === 'object') walk(v, `${at}/${k}`);
  }
};
walk(sheet, '');
// Every kind that the program knows is validated above.
for (const f of files('docs', 'schema')) { const kind = f.replace('.schema.json', ''); if (validate[kind]) passed += 1; else { failed += 1; console.log(`FAILED ${kind}: has a schema, and nothing is validated by it`); } }
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
