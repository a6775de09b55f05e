// SPDX-License-Identifier: MIT
// Pages judged by a real browser (Debian's chromium), by html-validate, by axe-core and by the text of the printed PDF (poppler):
// they render, print on three sheets at most of A4 and Letter with nothing cut off, do not scroll sideways on a phone, are accessible in
// light and dark, fetch nothing, run nothing, and hold hostile words as words.
//   node pages.mjs PROGRAM ROOT [FOLDER FOR SCREENSHOTS]
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { execFileSync } from 'node:child_process';
import { chromium } from 'playwright-core';
import axe from 'axe-core';
import { HtmlValidate } from 'html-validate';

const [program, root, shots] = process.argv.slice(2);
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'curdwright-pages-'));
const env = { ...process.env, XDG_DATA_HOME: folder };
const run = (...args) => { try { return execFileSync(program, args, { encoding: 'utf8', env, stdio: ['ignore', 'pipe', 'pipe'] }); } catch (e) { if (e.status === 1) return e.stdout; throw e; } };
const recipe = (name) => path.join(root, 'examples', 'recipes', name);
const canteen = path.join(root, 'examples', 'kitchens', 'canteen.json');
const written = (name, value) => { const file = path.join(folder, name); fs.mkdirSync(path.dirname(file), { recursive: true }); fs.writeFileSync(file, typeof value === 'string' ? value : JSON.stringify(value)); return file; };

let passed = 0;
const failures = [];
const check = (ok, page, what) => { if (ok) passed += 1; else { failures.push(`${page}: ${what}`); console.log(`FAILED ${page}: ${what}`); } };

const validator = new HtmlValidate({ extends: ['html-validate:recommended'], rules: { 'no-inline-style': 'error', 'void-style': 'off', 'no-trailing-whitespace': 'off', 'long-title': 'off', 'attribute-boolean-style': 'off' } });

// Letters that a PDF may break differently do not count.
const letters = (s) => s.normalize('NFKC').replace(/[^\p{L}\p{N}]/gu, '');
const paper = { A4: { width: 794, height: 1123 }, Letter: { width: 816, height: 1056 } };

async function printed(page, name, most) {
  for (const format of ['A4', 'Letter']) {
    const file = path.join(folder, 'page.pdf');
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize(paper[format]);
    await page.pdf({ path: file, format, preferCSSPageSize: false });
    const pages = Number(/Pages:\s+(\d+)/.exec(execFileSync('pdfinfo', [file], { encoding: 'utf8' }))[1]);
    check(pages >= 1 && pages <= most, name, `${format}: ${pages} pages, ${most} at most`);
    // All that stands on the page in print stands in the PDF, item by item.
    const items = await page.evaluate(() => [...document.querySelectorAll('h1,h2,h3,b,li,p,dt,dd,td,th,.what,text')].filter((e) => e.checkVisibility() && e.getClientRects().length && !e.querySelector('li,p,dd,td,b,h3')).map((e) => e.textContent.trim()).filter(Boolean));
    const pdf = letters(execFileSync('pdftotext', ['-raw', file, '-'], { encoding: 'utf8' }));
    const lost = items.filter((i) => !letters(i).match(/.{1,12}/gu)?.every((piece) => pdf.includes(piece) || piece.length < 12));
    check(lost.length === 0, name, `${format}: cut off: ${lost.slice(0, 3).join(' | ')}`);
    const smallest = await page.evaluate(() => Math.min(...[...document.querySelectorAll('body *')].filter((e) => !e.closest('svg') && e.checkVisibility() && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim())).map((e) => parseFloat(getComputedStyle(e).fontSize))));
    check(smallest >= 9.2, name, `${format}: text of ${(smallest * 0.75).toFixed(1)} pt`);
    const over = await page.evaluate(() => [...document.querySelectorAll('main *')].filter((e) => !e.closest('svg') && e.checkVisibility() && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1).length);
    check(over === 0, name, `${format}: ${over} elements stand over the edge`);
  }
  await page.emulateMedia({ media: 'screen' });
}

async function accessible(page, name) {
  for (const colorScheme of ['light', 'dark']) {
    await page.emulateMedia({ media: 'screen', colorScheme });
    await page.evaluate(() => document.querySelectorAll('details').forEach((d) => { d.open = true; }));
    const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
    check(violations.length === 0, name, `${colorScheme}: ${violations.map((v) => `${v.id} at ${v.nodes.map((n) => n.target.join(' ')).slice(0, 3).join(', ')}`).join('; ')}`);
  }
}

async function judge(context, name, html, { pages = 3, reading = true, look = () => {} } = {}) {
  const report = await validator.validateString(html);
  check(report.valid, name, `html-validate: ${report.results.flatMap((r) => r.messages).slice(0, 4).map((m) => `${m.ruleId} line ${m.line}: ${m.message}`).join('; ')}`);
  const file = written(`${name.replace(/[^\w-]/g, '_')}.html`, html);
  const page = await context.newPage();
  const asked = [], said = [];
  page.on('request', (r) => { if (r.url() !== `file://${file}`) asked.push(r.url()); });
  page.on('console', (m) => said.push(m.text()));
  page.on('pageerror', (e) => said.push(String(e)));
  page.on('dialog', (d) => { said.push(`dialog ${d.message()}`); d.dismiss(); });
  await page.goto(`file://${file}`);
  check((await page.title()).length > 0 && (await page.locator('h1').count()) === 1 && (await page.locator('main').count()) === 1, name, 'title, one h1, one main');
  for (const width of [360, 768, 1280]) {
    await page.setViewportSize({ width, height: 800 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    check(wide <= width, name, `scrolls sideways at ${width}: ${wide}`);
    if (shots) await page.screenshot({ path: path.join(shots, `${name.replace(/[^\w-]/g, '_')}-${width}.png`), fullPage: true });
  }
  check(asked.length === 0, name, `asks for ${asked}`);
  check(said.length === 0, name, `says ${said}`);
  await look(page);
  // The judge's own script: from here on it may run.
  if (reading) {
    await page.evaluate(axe.source);
    await accessible(page, name);
  }
  await printed(page, name, pages);
  await page.close();
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
const context = await browser.newContext({ bypassCSP: true });
const sheet = (...args) => run('sheet', ...args, '--format', 'html');

for (const f of fs.readdirSync(path.join(root, 'examples', 'recipes')).sort()) {
  await judge(context, f, sheet(recipe(f)));
  await judge(context, `${f} canteen`, sheet(recipe(f), '--kitchen', canteen), { reading: false });
  await judge(context, `${f} us`, sheet(recipe(f), '--units', 'us'), { reading: false });
}
const first = recipe('01-chickpea.json');
await judge(context, 'in hand', sheet(first, '--measured', 'soaked=1.71kg', '--measured', 'pulp=1.95kg'));
await judge(context, 'in trouble', sheet(first, '--seen', 'whey=milky'), { pages: 3 });
await judge(context, 'thrown out', sheet(first, '--seen', 'soak=sour'));
await judge(context, 'by the clock', sheet(first, '--ready-by', '2027-03-06 17:00', '--set', '/kitchen/time_zone=Europe/Berlin'));
const stopped = sheet(first, '--set', '/legume=kidney-red', '--set', '/cook/hold=1min');
await judge(context, 'stopped', stopped, { look: async (page) => check((await page.locator('.halt').count()) > 0 && (await page.locator('.step').count()) === 0, 'stopped', 'a stop and no steps') });

// Tables as pages.
const soy = recipe('02-soy-nigari.json');
const page = (...args) => run(...args, '--format', 'html');
await judge(context, 'vary', page('vary', first, '--over', '/starch/time=10min:50min:10min', '--figures', 'curd_mass_g,protein_fraction,starch_fraction,cost_per_block'), { pages: 4 });
await judge(context, 'vary two', page('vary', first, '--over', '/coagulate/with=nigari-flakes,lemon-juice,nope', '--over', '/starch/time=10min,40min', '--figures', 'yield'), { pages: 2 });
await judge(context, 'compare', page('compare', first, soy, recipe('03-pea-and-faba.json')), { pages: 3 });
const diary = (...args) => run('diary', ...args);
diary('start', first, '--at', '2027-03-05 18:00'), diary('start', first, '--set', '/press/time=2h', '--at', '2027-03-06 18:00');
diary('add', 'chickpea-1', 'soaked=1.6kg', 'pulp=1.5kg', 'curd=1180g', 'note=<script>alert(1)</script> & salted', '--at', '2027-03-06 15:00');
diary('add', 'chickpea-2', 'soaked=1.7kg', 'curd=1100g', 'whey=milky', '--at', '2027-03-07 15:00');
diary('score', 'chickpea-1', 'firmness=4', 'taste=5', '--at', '2027-03-07 12:00');
diary('piece', 'chickpea-1', 'A', 'mass=310g', 'aged=1d', 'way=pan', '--at', '2027-03-07 12:00');
await judge(context, 'diary show', page('diary', 'show', 'chickpea-1', '--on', '2027-03-08'), { look: async (p) => check((await p.locator('script').count()) === 0 && (await p.locator('main').textContent()).includes('<script>alert(1)</script> & salted'), 'diary show', 'the note as it was written') });
await judge(context, 'diary compare', page('diary', 'compare', 'chickpea-1', 'chickpea-2'));

// Hostile words in every place for words.
const evil = '</title></style><script>alert(1)</script><img src=x onerror=alert(2)>"\'&<svg onload=alert(3)>';
const record = JSON.parse(fs.readFileSync(path.join(root, 'data', 'legumes', 'chickpea-kabuli.json'), 'utf8'));
Object.assign(record, { id: 'evil', name: `Evil ${evil}`, kitchen_name: `evil ${evil}`, also: [] });
written('records/legumes/evil.json', record);
const kitchen = written('evil-kitchen.json', { ...JSON.parse(fs.readFileSync(canteen, 'utf8')), name: `k ${evil}`, pots: [{ name: `pot ${evil}`, volume: '12 l' }] });
const bad = written('evil.json', { title: `t ${evil}`, legume: 'evil', want: { blocks: 2 } });
await judge(context, 'hostile', sheet(bad, '--kitchen', kitchen, '--data', path.join(folder, 'records')), {
  pages: 3,
  look: async (page) => {
    check((await page.locator('script,img,svg:not(.picture),iframe,a').count()) === 0, 'hostile', 'no element from a word');
    check((await page.locator('h1').textContent()) === `t ${evil}`, 'hostile', 'the title as it was written');
  },
});

// The judges can say no: spoiled pages are caught, each by the judge whose matter it is.
const good = sheet(first);
async function spoiled(what, html, by) {
  const before = failures.length, kept = passed;
  const log = console.log;
  console.log = () => {};
  await judge(context, `spoiled: ${what}`, html);
  console.log = log;
  const caught = failures.splice(before).filter((f) => f.includes(by));
  passed = kept;
  check(caught.length > 0, `spoiled: ${what}`, `nobody said ${by}`);
}
const styled = (css) => good.replace('</style>', `${css}</style>`);
await spoiled('cut off in print', styled('@media print{.steps{height:150px;overflow:hidden}}'), 'cut off');
await spoiled('wide', styled('h1{min-width:500px}'), 'sideways at 360');
await spoiled('small print', styled('@media print{.step li{font-size:5pt}}'), 'text of 5.0 pt');
await spoiled('faint', styled('.step li{color:#bbb}'), 'light: color-contrast');
await spoiled('long', styled('@media print{.step{height:900px}}'), 'pages, 3 at most');
await spoiled('fetching', good.replace('<main>', '<main><img alt="" src="https://example.invalid/x.png">'), 'asks for');
await spoiled('unclosed', good.replace('</h1>', ''), 'html-validate');

await browser.close();
fs.rmSync(folder, { recursive: true });
console.log(`pages: ${passed} checks passed, ${failures.length} failed`);
process.exit(failures.length ? 1 : 0);
