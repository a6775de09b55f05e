// SPDX-License-Identifier: MIT
// What is published of every example, read by independent readers: Markdown, recipe markup against the vocabulary of schema.org, the mass balance.
//
//     node published.mjs PROGRAM ROOT
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { allowedElements, allowedNodes, commonmarkShape, csvRows, expanded, gfmTree, htmlElements, joiner, kindsOf, words } from './readers.mjs';

const [program, root] = process.argv.slice(2);
const here = path.dirname(fileURLToPath(import.meta.url));
const run = (...args) => execFileSync(program, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
let passed = 0, failed = 0;
const expect = (name, good, told = '') => { if (good) passed += 1; else { failed += 1; console.log(`FAILED ${name}${told ? `: ${told}` : ''}`); } };

// --- Markdown -------------------------------------------------------------------------------------

function checkMarkdown(name, text, sheet) {
  const tree = gfmTree(text);
  const kinds = [...kindsOf(tree)].filter((k) => !allowedNodes.has(k)), { elements } = htmlElements(text);
  expect(`${name}: kinds of nodes`, kinds.length === 0, kinds.join(' '));
  expect(`${name}: elements`, elements.every((e) => allowedElements.has(e)), elements.filter((e) => !allowedElements.has(e)).join(' '));
  expect(`${name}: one title`, commonmarkShape(text).filter((k) => k === 'heading1').length === 1);
  expect(`${name}: begins with its title`, words(tree.children[0]).replace(joiner, '') === sheet.title, words(tree.children[0]));
  const heads = tree.children.filter((n) => n.type === 'heading').map((n) => n.depth);
  expect(`${name}: no level of headings is skipped`, heads.every((d, i) => i === 0 || d <= heads[i - 1] + 1));
  for (const t of tree.children.filter((n) => n.type === 'table')) expect(`${name}: a table's rows are of one length`, t.children.every((r) => r.children.length === t.children[0].children.length));
  const plain = words(tree).replace(joiner, '');
  for (const a of sheet.weigh_out) expect(`${name}: ${a.amount} ${a.what}`, plain.includes(a.amount) && plain.includes(a.what));
  for (const w of sheet.standing) expect(`${name}: ${w}`, plain.includes(w));
  // Within a step cautions stand before what they are about.
  const headings = sheet.steps.map((s) => plain.indexOf(`\n${s.step_number}. ${s.verb}`));
  sheet.steps.forEach((s, i) => {
    const part = plain.slice(headings[i], headings[i + 1] ?? plain.length);
    expect(`${name}: step ${s.verb}`, headings[i] > 0);
    const act = part.indexOf(s.actions[0]), care = s.before.map((c) => part.indexOf(c.text));
    expect(`${name}: actions of ${s.verb}`, act > 0 && s.actions.every((a) => part.includes(a)));
    expect(`${name}: cautions of ${s.verb} come first`, care.every((at) => at > 0 && at < act), JSON.stringify(care));
  });
}

// --- recipe markup --------------------------------------------------------------------------------

const vocabulary = 'http://schema.org/';
const seconds = (d) => { const [, h, m] = /^PT(?:(\d+)H)?(?:(\d+)M)?$/.exec(d) ?? []; return h === undefined && m === undefined ? NaN : 3600 * (h ?? 0) + 60 * (m ?? 0); };

async function checkMarkup(name, text, sheet) {
  const recipe = JSON.parse(text);
  expect(`${name}: cannot end a script element`, !/[<>&\u2028\u2029]/.test(text));
  for (const key of ['name', 'description', 'recipeYield', 'prepTime', 'cookTime', 'performTime', 'totalTime', 'recipeIngredient', 'recipeInstructions', 'nutrition', 'tool', 'keywords', 'recipeCategory', 'inLanguage']) expect(`${name}: ${key}`, recipe[key] !== undefined);
  const [node] = await expanded(recipe);
  expect(`${name}: is a Recipe`, node?.['@type']?.[0] === `${vocabulary}Recipe`);
  expect(`${name}: every key is of the vocabulary`, Object.keys(node).every((k) => k.startsWith(vocabulary) || k === '@type'), Object.keys(node).join(' '));
  expect(`${name}: times`, seconds(recipe.prepTime) + seconds(recipe.cookTime) === seconds(recipe.totalTime) && Math.abs(seconds(recipe.totalTime) - sheet.times.total_s) <= 30, `${recipe.prepTime} ${recipe.cookTime} ${recipe.totalTime} of ${sheet.times.total_s}`);
  expect(`${name}: yield`, recipe.recipeYield[0] === String(sheet.expect.whole_blocks_count), JSON.stringify(recipe.recipeYield));
  expect(`${name}: ingredients`, recipe.recipeIngredient.length === sheet.weigh_out.length && sheet.weigh_out.every((a, i) => recipe.recipeIngredient[i].startsWith(a.amount)));
  const calories = /^(\d+) kcal$/.exec(recipe.nutrition.calories);
  expect(`${name}: calories`, calories && Math.abs(calories[1] - sheet.label.per_block.energy_kcal) <= 0.5, recipe.nutrition.calories);
  for (const [property, key] of [['proteinContent', 'protein_g'], ['fatContent', 'fat_g'], ['carbohydrateContent', 'carbohydrate_g'], ['fiberContent', 'fibre_g'], ['sugarContent', 'sugars_g']]) {
    const grams = /^(\d+\.\d) g$/.exec(recipe.nutrition[property]);
    expect(`${name}: ${property}`, grams && Math.abs(grams[1] - sheet.label.per_block[key]) <= 0.0501, recipe.nutrition[property]);
  }
  const sections = recipe.recipeInstructions.filter((s) => s.name !== 'Make sure of');
  expect(`${name}: a section for each step`, sections.length === sheet.steps.length);
  sections.forEach((section, i) => {
    const texts = section.itemListElement.map((s) => s.text), step = sheet.steps[i];
    expect(`${name}: ${section.name} in order`, section.itemListElement.every((s, n) => s['@type'] === 'HowToStep' && s.position === n + 1 && s.text.length > 0));
    const act = texts.indexOf(step.actions[0]);
    expect(`${name}: cautions of ${section.name} come first`, act >= step.before.length && step.before.every((c, n) => texts[n].endsWith(c.text)), texts.join(' | '));
    expect(`${name}: actions of ${section.name}`, step.actions.every((a, n) => texts[act + n] === a));
  });
}

/// The types of the vocabulary judge names of properties and kinds of values: the documents are compiled as typed constants, and one with each of
/// a few slips must not compile.
async function checkTypes(documents) {
  const ts = (await import('typescript')).default;
  const folder = fs.mkdtempSync(path.join(here, 'typed-'));
  const faultsOf = (file, constants) => {
    fs.writeFileSync(file, `import type { Recipe, WithContext } from 'schema-dts';\n${constants.map((c, i) => `export const r${i}: WithContext<Recipe> = ${c.trim()};\n`).join('')}`);
    const built = ts.createProgram([file], { noEmit: true, strict: true, target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext, moduleResolution: ts.ModuleResolutionKind.Bundler, types: [] });
    return ts.getPreEmitDiagnostics(built).map((d) => ts.flattenDiagnosticMessageText(d.messageText, '\n').slice(0, 400));
  };
  try {
    const faults = faultsOf(path.join(folder, 'good.ts'), documents);
    expect(`${documents.length} documents have the types of schema.org`, faults.length === 0, faults.join('\n'));
    const one = JSON.parse(documents[0]);
    const slips = { 'an unknown property': { ...one, recipeYeild: '4' }, 'an unknown type': { ...one, '@type': 'Recipee' }, 'a number for a duration': { ...one, totalTime: 5 }, 'nutrition as a list of numbers': { ...one, nutrition: [1, 2] }, 'an unknown nutrient': { ...one, nutrition: { ...one.nutrition, ironContent: '1 mg' } } };
    for (const [slip, document] of Object.entries(slips)) expect(`${slip} is found out`, faultsOf(path.join(folder, 'bad.ts'), [JSON.stringify(document)]).length > 0);
  } finally {
    fs.rmSync(folder, { recursive: true });
  }
}

// --- the mass balance -----------------------------------------------------------------------------

function checkBalance(name, text, sheet) {
  expect(`${name}: every line ends in CRLF`, text.endsWith('\r\n') && !/[^\r]\n/.test(text));
  const [head, ...rows] = csvRows(text), found = {};
  for (const r of rows) ((found[r[0]] ??= {})[r[1]] ??= {})[r[2]] = Object.fromEntries(head.slice(3).map((k, i) => [k, Number(r[i + 3])]));
  let count = 0;
  for (const s of sheet.stages)
    for (const side of ['in', 'out', 'aside']) {
      for (const [stream, masses] of Object.entries(s[side])) ++count, expect(`${name}: ${s.stage} ${side} ${stream}`, JSON.stringify(found[s.stage]?.[side]?.[stream]) === JSON.stringify(masses));
    }
  expect(`${name}: no row besides`, count === rows.length && count >= 20, `${count} of ${rows.length}`);
  for (const [stage, sides] of Object.entries(found)) {
    const sum = (side) => Object.values(sides[side] ?? {}).reduce((a, m) => a + m.mass_g, 0);
    expect(`${name}: ${stage} balances`, Math.abs(sum('in') - sum('out') - sum('aside')) <= 1e-6 * sum('in'), `${sum('in')} ${sum('out')} ${sum('aside')}`);
  }
}

// --------------------------------------------------------------------------------------------------

const recipes = fs.readdirSync(path.join(root, 'examples/recipes')).filter((f) => f.endsWith('.json')).sort();
const canteen = ['--kitchen', path.join(root, 'examples/kitchens/canteen.json')], documents = [];
for (const [i, file] of recipes.entries())
  for (const more of [[], ['--units', 'us'], canteen, ['--start', '2027-03-05 18:00', '--set', '/kitchen/time_zone=Europe/Berlin'], ['--measured', 'soaked=1.7kg', '--measured', 'pulp=1.9kg'], ['--price', 'soybean=3/kg']]) {
    if (i > 0 && more[0] === '--measured') continue;
    const args = ['sheet', path.join(root, 'examples/recipes', file), ...more], name = `${file} ${more.join(' ')}`;
    const told = more[0] === '--measured';
    const sheet = JSON.parse(run(...args, '--format', 'json'));
    if (told) {
      // What is used up stands in the published page too, so the plan's own lists are looked for.
      const text = run(...args, '--format', 'markdown'), plain = words(gfmTree(text)).replace(joiner, '');
      for (const part of ['860 g', 'Measured, beside planned', 'pulp 1900 g (1.55 kg planned)', 'soaked 1700 g (1.64 kg planned)', 'Sort and soak', 'What that changed']) expect(`${name}: ${part}`, plain.includes(part));
      continue;
    }
    checkMarkdown(name, run(...args, '--format', 'markdown'), sheet);
    const markup = run(...args, '--format', 'jsonld');
    documents.push(markup);
    await checkMarkup(name, markup, sheet);
    checkBalance(name, run(...args, '--format', 'csv'), sheet);
  }
await checkTypes(documents);

// A recipe that a rule stops is not published.
const stopped = path.join(os.tmpdir(), `curdwright-stopped-${process.pid}.json`);
fs.writeFileSync(stopped, '{"legume":"kidney-red","want":{"blocks":2},"cook":{"hold":"2 min"}}');
for (const format of ['jsonld', 'markdown', 'csv']) {
  const got = spawnSync(program, ['sheet', stopped, '--format', format], { encoding: 'utf8' });
  expect(`stopped ${format}: status`, got.status === 1);
  if (format === 'jsonld') expect('stopped: no markup, and the reason is told', got.stdout === '' && got.stderr.includes('NOT PLANNED'));
  if (format === 'markdown') expect('stopped: no step and no amount', got.stdout.includes('## Not planned') && got.stdout.includes('**Stop:**') && !got.stdout.includes('Weigh out'), got.stdout);
}
fs.rmSync(stopped);
console.log(`published: ${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 1000 ? 0 : 1);
