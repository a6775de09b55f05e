// SPDX-License-Identifier: MIT
// Hostile strings in every text of the user's own: recipe, kitchen, records of --data, diary. What is published has the same shape as with a harmless word
// in their place, by independent readers, and no byte of it drives a terminal.
//
//     node hostile.mjs PROGRAM ROOT
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { calendarEvents, commonmarkShape, csvRows, driving, expanded, formulas, gfmShape, gfmTree, htmlElements, joiner, jsonShape, words } from './readers.mjs';

const [program, root] = process.argv.slice(2);
let passed = 0, failed = 0;
const expect = (name, good, told = '') => { if (good) passed += 1; else { failed += 1; console.log(`FAILED ${name}${told ? `: ${String(told).slice(0, 300)}` : ''}`); } };

/// The word by which each is found again stands in all of them.
const marker = 'Zq7', harmless = `Plain ${marker} words`;
const hostile = {
  'a script': `<script>alert("${marker}")</script>`,
  'the end of a script': `</script><img src=x onerror=alert(1)>${marker}`,
  'an HTML comment': `<!-- ${marker} --> <b>bold</b> &lt; &amp; &#60;`,
  'a heading': `# ${marker} ## #`,
  'a list': `- ${marker}`,
  'a counted list': `1. ${marker}`,
  'a quote': `> ${marker}`,
  'a fence': `\`\`\`${marker}\`\`\` ~~~`,
  'a rule': `--- *** ___ ${marker}`,
  'emphasis': `*${marker}* __${marker}__ ~~${marker}~~ \`code\``,
  'a link': `[${marker}](javascript:alert(1)) ![x](http://a.example/x.png) [a]: http://a.example`,
  'a bare link': `http://a.example/${marker} www.a.example ftp://b.example/x mailto:c@a.example d@a.example //e.example f.example`,
  'an autolink': `<http://a.example/${marker}> <me@a.example>`,
  'a table': `${marker} | a | b || \\| |---|---|`,
  'a tick box': `[ ] ${marker} [x] [^1]`,
  'templates': `{{ ${marker} }} {% raw %} {.class #id} $x$`,
  'backslashes': `\\${marker}\\\\ \\`,
  'entities': `&quot;${marker}&nbsp;&lt;b&gt;`,
  'a formula': `=cmd|'/c ${marker}'!A1`,
  'a sum': `+1+${marker}`,
  'a difference': `-2+3+cmd|' ${marker}'`,
  'a reference': '-E1',
  'an at': `@SUM(1+1)*${marker}`,
  'a formula behind a blank': ` =1+${marker}`,
  'a wide formula': `\uff1dcmd|${marker}`,
  'quotes and commas': `"${marker}","x";y,z`,
  'escapes of calendars': `${marker};X:Y,Z\\n\\;END:VEVENT`,
  'line ends': `${marker}\r\nEND:VEVENT\r\n\r\n# Head\n\n<b>x</b>\n\n| a | b |\n|---|---|\n`,
  'a tab in front': `\t=1+1 ${marker}`,
  'a carriage return in front': `\r=1+1 ${marker}`,
  'an escape sequence': `\u001b[31m${marker}\u001b]0;title\u0007\u001b[2J`,
  'C1': `\u009b31m${marker}\u0085\u007f\u0090`,
  'a nought': `${marker}\u0000tail`,
  'turned text': `\u202egpj.${marker}\u202c \u2066x\u2069`,
  'marks of direction': `a\u061cb\u200ec\u200f ${marker}`,
  'tags that no one sees': `${marker}\u{e0001}\u{e0069}\u{e007f}`,
  'separators of lines': `${marker}\u2028x\u2029y`,
  'letters apart from their marks': `${marker} Cafe\u0301 a\u0300\u0301\u0302`,
  'an emoji of many': `\u{1f468}\u200d\u{1f469}\u200d\u{1f467} ${marker}`,
  'a very long word': `${marker}${'w'.repeat(180)}`,
  'only marks': '***',
};

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'curdwright-hostile-'));
const at = (...parts) => path.join(folder, ...parts);
const read = (...parts) => JSON.parse(fs.readFileSync(path.join(root, ...parts), 'utf8'));
function run(...args) {
  const got = spawnSync(program, args, { encoding: 'buffer', input: '', env: { PATH: process.env.PATH, CURDWRIGHT_DIARY: at('none.jsonl') } });
  return { status: got.status, out: got.stdout.toString('utf8'), err: got.stderr.toString('utf8') };
}

/// Where a text of the user's may stand: each gives the options of a run in which it does.
const place = {
  title: (word) => { fs.writeFileSync(at('r.json'), JSON.stringify({ title: word, legume: 'chickpea-kabuli', want: { blocks: 2 }, extras: [{ what: 'salt', amount: '5 g' }] })); return [at('r.json')]; },
  kitchen: (word) => {
    place.title('Blocks');
    const kitchen = { ...read('examples', 'kitchens', 'canteen.json'), name: word, tares: { bowl: '100 g' } };
    kitchen.pots = kitchen.pots.map((p) => ({ ...p, name: word }));
    fs.writeFileSync(at('k.json'), JSON.stringify(kitchen));
    return [at('r.json'), '--kitchen', at('k.json')];
  },
  records: (word) => {
    place.title('Blocks');
    const write = (kind, id, change) => {
      const record = read('data', kind, `${id}.json`);
      Object.assign(record, change);
      const deep = (node) => { for (const [k, v] of Object.entries(node)) if (k === 'note') node[k] = word; else if (v && typeof v === 'object') deep(v); };
      deep(record);
      fs.mkdirSync(at('data', kind), { recursive: true });
      fs.writeFileSync(at('data', kind, `${id}.json`), JSON.stringify(record));
    };
    const names = { name: word, kitchen_name: word, notes: [word] };
    write('legumes', 'chickpea-kabuli', { ...names, latin: word });
    write('coagulants', 'calcium-sulfate-dihydrate', { ...names, grade: word, e_number: word });
    write('extras', 'salt', { ...names, grade: word });
    write('equipment', 'hand-twist', { ...names, how: word });
    write('equipment', 'high-speed', names);
    write('equipment', 'electric', names);
    write('equipment', 'ice-water', names);
    write('equipment', 'weight-on-mould', { ...names, how: word });
    return [at('r.json'), '--data', at('data')];
  },
};
const day = ['--start', '2027-03-05 18:00', '--set', '/kitchen/time_zone=Europe/Berlin'];

/// What must hold of any output, whatever stands in it.
function inert(name, text, lineEnds = '\n') {
  const found = driving.exec(lineEnds === '\r\n' ? text.replaceAll('\r\n', '\n') : text);
  expect(`${name}: nothing drives a terminal`, !found, JSON.stringify(text.slice(Math.max(0, (found?.index ?? 0) - 20), (found?.index ?? 0) + 20)));
}

/// What drives a terminal, turns text or cannot be seen is shown as a question mark.
const seenAs = (word) => word.replace(/[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\u{e0000}-\u{e007f}]/gu, '?');
const squeezed = (s) => s.replace(joiner, '').replace(/\s+/g, ' ').trim();

/// The shapes of all that is published of one place.
async function shapesOf(name, args, word, wordStands) {
  const shapes = {};
  const get = (form, ...more) => { const got = run('sheet', ...args, '--ranges', 'off', '--format', form, ...more); inert(`${name}, errors of ${form}`, got.err); return got; };
  const page = get('markdown');
  shapes.status = page.status;
  if (page.status === 2) return shapes;
  inert(`${name}, markdown`, page.out);
  const tree = gfmTree(page.out), { html, elements } = htmlElements(page.out);
  shapes.commonmark = commonmarkShape(page.out).join(' '), shapes.gfm = gfmShape(tree), shapes.html = elements.join(' ');
  expect(`${name}, markdown: no attribute`, !/<[a-z0-9]+ (?!style="text-align:right">|start="\d+">)[^>]*>/i.test(html), /<[a-z0-9]+ [^>]*>/i.exec(html));
  if (wordStands) expect(`${name}, markdown: the words are as they were`, squeezed(words(tree)).includes(squeezed(seenAs(word))), squeezed(words(tree)).slice(0, 200));
  const markup = get('jsonld');
  const recipe = JSON.parse(markup.out);
  inert(`${name}, markup`, markup.out);
  shapes.jsonld = jsonShape(recipe);
  expect(`${name}, markup: inert in a page`, !/[<>&\u2028\u2029]/.test(markup.out));
  expect(`${name}, markup: expands`, (await expanded(recipe))[0]['@type'][0] === 'http://schema.org/Recipe');
  if (wordStands) expect(`${name}, markup: the words are as they were`, markup.out.length > 0 && JSON.stringify(recipe).includes(JSON.stringify(seenAs(word)).slice(1, -1)));
  const table = get('csv');
  const rows = csvRows(table.out);
  shapes.csv = `${rows.length} ${rows[0].length}`;
  expect(`${name}, csv: no formula`, formulas(rows).length === 0, formulas(rows));
  const ics = get('ics', ...day);
  inert(`${name}, calendar`, ics.out, '\r\n');
  const calendar = calendarEvents(ics.out);
  shapes.ics = calendar.events.length + ' ' + calendar.events.map((e) => e.component.getAllProperties().map((p) => p.name).join(',')).join(' ');
  inert(`${name}, text`, get('text').out);
  JSON.parse(get('json').out);
  return shapes;
}

/// Other commands that show the same texts.
function otherCommands(name, args) {
  const [recipe, ...options] = args;
  const kitchenless = options[0] === '--kitchen' ? ['show', 'kitchen', ...options] : ['show', 'legume', 'chickpea-kabuli', ...options];
  for (const words of [['check', recipe, ...options], ['explain', recipe, 'curd_mass_g', ...options], ['compare', recipe, recipe, ...options], ['vary', recipe, '--over', '/starch/time=20min,40min', '--ranges', 'off', '--plot', 'off', ...options], kitchenless,
    ...(options[0] === '--data' ? [['list', 'legumes', ...options], ['list', 'coagulants', ...options], ['list', 'extras', ...options], ['list', 'strainers', ...options], ['show', 'coagulant', 'calcium-sulfate-dihydrate', ...options], ['show', 'extra', 'salt', ...options]] : [])]) {
    const got = run(...words);
    inert(`${name}, ${words[0]} ${words[1]?.startsWith('/') ? '' : words[1]}`, got.out), inert(`${name}, errors of ${words[0]}`, got.err);
  }
  for (const words of [['vary', recipe, '--over', '/starch/time=20min,40min', '--ranges', 'off', '--format', 'csv', ...options]]) {
    const got = run(...words);
    if (got.status === 0) expect(`${name}, ${words[0]} csv: no formula`, formulas(csvRows(got.out)).length === 0, formulas(csvRows(got.out)));
  }
}

function diary(name, word) {
  fs.rmSync(at('d.jsonl'), { force: true });
  place.kitchen(word), place.title(word);
  const book = (...args) => { const got = run('diary', ...args, '--diary', at('d.jsonl')); inert(`${name}, errors of diary ${args[0]}`, got.err); return got; };
  const start = () => book('start', at('r.json'), '--kitchen', at('k.json'), '--at', '2027-03-05 18:00');
  let begun = start();
  if (begun.status === 2) place.kitchen(harmless), place.title(harmless), begun = start();  // no reader takes control characters in a title or a name
  const id = begun.out.trim();
  expect(`${name}, diary: begins`, id !== '', id);
  if (id === '' || word.includes('\u0000')) return;  // no argument of a command can hold a nought
  book('add', id, `note=${word}`, 'pulp=1kg', '--at', '2027-03-06 12:00'), book('piece', id, 'A', 'mass=300g', `note=${word}`, '--at', '2027-03-06 13:00');
  book('piece', id, word, 'mass=300g'), book('add', id, word), book('add', id, `soaked=${word}`), book('score', id, `taste=${word}`);
  for (const args of [['list'], ['show', id], ['compare', id, id]]) inert(`${name}, diary ${args[0]}`, book(...args, '--on', '2027-03-07').out);
  const rows = csvRows(book('export', '--format', 'csv').out);
  expect(`${name}, diary csv: twelve columns, and no formula`, rows[0].length === 12 && formulas(rows).length === 0, formulas(rows));
  expect(`${name}, diary csv: the notes are there`, rows.filter((r) => r[4] === 'note').length === 2, rows.length);
  JSON.parse(book('export', '--format', 'json').out);
  const page = run('sheet', '--batch', id, '--diary', at('d.jsonl'), '--format', 'markdown', '--ranges', 'off');
  inert(`${name}, a page of the batch`, page.out);
  return gfmShape(gfmTree(page.out));
}

try {
  const base = {};
  for (const [where, args] of Object.entries(place)) base[where] = await shapesOf(`harmless ${where}`, args(harmless), harmless, true);
  base.diary = diary('harmless', harmless);
  let refused = 0;
  for (const [kind, word] of Object.entries(hostile)) {
    for (const [where, args] of Object.entries(place)) {
      const name = `${kind} in ${where}`, options = args(word), shapes = await shapesOf(name, options, word, where !== 'kitchen' && word.length < 100 && /\S/.test(word.trim()));
      otherCommands(name, options);
      if (shapes.status === 2) { refused += 1; continue; }
      for (const form of Object.keys(base[where])) expect(`${name}: the shape of ${form}`, shapes[form] === base[where][form], `\n${shapes[form]}\n${base[where][form]}`);
    }
    const shape = diary(kind, word);
    if (shape !== undefined) expect(`${kind} in a diary: the shape of the page`, shape === base.diary, `\n${shape}\n${base.diary}`);
  }
  console.log(`hostile: ${Object.keys(hostile).length} strings, ${refused} refused by a reader`);
  expect('few are refused outright', refused <= Object.keys(hostile).length);
} finally {
  fs.rmSync(folder, { recursive: true });
}
console.log(`hostile: ${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 1000 ? 0 : 1);
