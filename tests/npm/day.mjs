// SPDX-License-Identifier: MIT
// The program's own calendars: each is compared with the day of its JSON sheet by calendar.mjs, and the zone's clock by the time zones of this runtime.
//
//     node day.mjs PROGRAM ROOT
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const [program, root] = process.argv.slice(2);
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'curdwright-day-'));
const faults = [];

/// "2027-03-05 18:00" of an instant in a zone, by the runtime's tables.
function clockIn(zone, ms) {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).formatToParts(ms);
  const of = (type) => parts.find((p) => p.type === type).value;
  return `${of('year')}-${of('month')}-${of('day')} ${of('hour')}:${of('minute')}`;
}

/// The first instant at which a zone's clock shows a local time.
function instantOf(zone, local) {
  const naive = Date.parse(local.replace(' ', 'T') + ':00Z');
  for (let minutes = -14 * 60; minutes <= 14 * 60; minutes += 15) if (clockIn(zone, naive + minutes * 60000) === local) return naive + minutes * 60000;
  throw new Error(`${local} does not exist in ${zone}`);
}

/// Jarfuls are one event; all else is an event of its own.
function grouped(day) {
  const jarful = (o) => o.load_number > 0 && (o.what === 'blend' || o.what === 'strain');
  const run = day.filter(jarful);
  const out = [];
  for (const o of day) {
    if (!jarful(o)) out.push(o);
    else if (o === run[0]) out.push({ ...o, hands: true, length_s: run.at(-1).start_s + run.at(-1).length_s - o.start_s });
  }
  return out;
}

const minute = (s) => Math.round(s / 60) * 60000;
let events = 0;
function check(recipe, zone, ...when) {
  const options = ['sheet', path.join(root, 'examples/recipes', recipe), ...when, '--ranges', 'off', ...(zone ? ['--set', `/kitchen/time_zone=${zone}`] : [])];
  const run = (format) => execFileSync(program, [...options, '--format', format], { encoding: 'utf8' });
  const sheet = JSON.parse(run('json'));
  const base = zone ? instantOf(zone, sheet.clock.start) : Date.parse(sheet.clock.start.replace(' ', 'T') + ':00Z');
  const written = (ms) => new Date(ms).toISOString().replace('.000', '').replace('Z', zone ? 'Z' : '');
  const wanted = { stamp: new Date(base).toISOString().replace('.000', ''), events: [] };
  for (const o of grouped(sheet.day)) {
    const start = base + minute(o.start_s), end = base + minute(o.start_s + o.length_s);
    const shown = zone ? clockIn(zone, start) : written(start).slice(0, 16).replace('T', ' ');
    if (shown !== o.clock) faults.push(`${recipe} ${zone}: ${o.what} stands at ${o.clock}, the zone's clock shows ${shown}`);
    const event = { start: written(start), alarm: o.hands || o.what.startsWith('heat'), waiting: !o.hands };
    if (end > start) event.end = written(end);
    wanted.events.push(event);
    ++events;
  }
  wanted.events.push({ start: written(base + minute(sheet.times.total_s)), alarm: true, waiting: false });
  const ics = path.join(folder, 'day.ics'), json = path.join(folder, 'day.json');
  const text = run('ics');
  fs.writeFileSync(ics, text);
  // The words of an event are the program's own; that they are there is checked by calendar.mjs.
  const summaries = text.replace(/\r\n /g, '').split('\r\n').filter((l) => l.startsWith('SUMMARY:')).map((l) => l.slice(8).replace(/\\([,;\\])/g, '$1'));
  wanted.events.forEach((e, i) => { e.summary = summaries[i] ?? 'missing'; });
  fs.writeFileSync(json, JSON.stringify(wanted));
  try { execFileSync('node', [path.join(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname), 'calendar.mjs'), ics, json], { encoding: 'utf8', stdio: 'pipe' }); }
  catch (e) { faults.push(`${recipe} ${zone} ${when}: ${e.stdout}${e.stderr}`); }
}

for (const recipe of fs.readdirSync(path.join(root, 'examples/recipes')).filter((f) => f.endsWith('.json'))) {
  check(recipe, 'Europe/Berlin', '--start', '2027-03-05 18:00');
  check(recipe, '', '--ready-by', '2027-03-06 17:00');
}
// Nights in which the clocks change, forward and back, and a half-hour one.
check('01-chickpea.json', 'Europe/Berlin', '--start', '2027-03-27 18:00');
check('01-chickpea.json', 'Europe/Berlin', '--ready-by', '2027-10-31 17:00');
check('02-soy-nigari.json', 'America/New_York', '--start', '2027-11-06 20:00');
check('03-pea-and-faba.json', 'Australia/Lord_Howe', '--start', '2027-04-03 18:00');
check('03-pea-and-faba.json', 'Asia/Kathmandu', '--start', '2027-04-03 18:00', '--ready-by', '2027-04-05 18:00');
fs.rmSync(folder, { recursive: true });
if (events < 300) faults.push(`only ${events} events were compared`);
for (const f of faults) console.error(f);
console.log(`calendars: ${events} events compared, ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);
