// SPDX-License-Identifier: MIT
// A calendar file judged by an independent reader (ical.js), and by checks of its lines, for the reader forgives much.
//
//     node calendar.mjs FILE.ics WANTED.json     compares a file with a description
//     node calendar.mjs --samples                the stored samples; and that broken ones are found out
//
// WANTED.json: { "name"?, "stamp"?, "events": [ { "summary", "start", "end"?, "alarm"?, "waiting"?, "says"? } ] }, events in the order of the file.
// Times are "2027-03-05T17:00:00Z", or without the Z where the file floats. `end` may be absent: the event must then be a moment. `alarm` is false, or
// true for a display alarm five minutes before. `says` is a text, or a list of texts, that the description contains.
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ICAL from 'ical.js';

// RFC 7986 makes NAME a text; the reader knows RFC 5545 only.
ICAL.design.defaultSet.property.name = { defaultType: 'text' };

const allowed = {
  VCALENDAR: ['VERSION', 'PRODID', 'NAME'],
  VEVENT: ['UID', 'DTSTAMP', 'DTSTART', 'DTEND', 'SUMMARY', 'DESCRIPTION', 'TRANSP'],
  VALARM: ['ACTION', 'DESCRIPTION', 'TRIGGER'],
};
const needed = { VCALENDAR: ['VERSION', 'PRODID'], VEVENT: ['UID', 'DTSTAMP', 'DTSTART', 'SUMMARY'], VALARM: ['ACTION', 'DESCRIPTION', 'TRIGGER'] };
const parents = { VCALENDAR: undefined, VEVENT: 'VCALENDAR', VALARM: 'VEVENT' };

/// Faults of lines, properties and nesting.
function faultsOfLines(bytes) {
  const faults = [], open = [], uids = new Set();
  let text;
  try { text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes); } catch { return ['not UTF-8']; }
  if (!text.endsWith('\r\n')) faults.push('does not end with CRLF');
  if (/[^\r]\n|\r[^\n]/.test(text)) faults.push('a line does not end with CRLF');
  for (const line of text.split('\r\n')) {
    const raw = Buffer.from(line, 'utf8');
    if (raw.length > 75) faults.push(`a line of ${raw.length} octets: ${line}`);
    if (/[\u0000-\u001f\u007f-\u009f]/.test(line)) faults.push(`a control character: ${JSON.stringify(line)}`);
  }
  // Decoded line by line: a character cut in two by a fold shows as no UTF-8.
  for (let from = 0, to; (to = bytes.indexOf('\r\n', from)) >= 0; from = to + 2)
    try { new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(from, to)); } catch { faults.push('a fold inside a character'); }
  const lines = text.replace(/\r\n /g, '').split('\r\n').slice(0, -1);
  if (lines[0] !== 'BEGIN:VCALENDAR' || lines.at(-1) !== 'END:VCALENDAR') faults.push('is not one VCALENDAR');
  for (const line of lines) {
    const [, name, value] = /^([A-Z-]+):(.*)$/su.exec(line) ?? [];
    if (!name) { faults.push(`no property: ${line}`); continue; }
    const here = open.at(-1);
    if (name === 'BEGIN') {
      if (!(value in parents) || parents[value] !== here?.kind) faults.push(`${value} stands inside ${here?.kind}`);
      open.push({ kind: value, seen: {} });
    } else if (name === 'END') {
      if (here?.kind !== value) faults.push(`END:${value} closes ${here?.kind}`);
      for (const n of needed[value] ?? []) if (here?.seen[n] === undefined) faults.push(`${value} without ${n}`);
      open.pop();
    } else if (!here) {
      faults.push(`outside of everything: ${line}`);
    } else {
      if (!allowed[here.kind]?.includes(name)) faults.push(`${name} in ${here.kind}`);
      if (here.seen[name] !== undefined) faults.push(`${name} twice in ${here.kind}`);
      here.seen[name] = value;
      if (name.startsWith('DT') && !/^\d{8}T\d{6}Z?$/.test(value)) faults.push(`not a time: ${line}`);
      if (name === 'DTSTAMP' && !value.endsWith('Z')) faults.push('DTSTAMP is not UTC');
      if (['SUMMARY', 'DESCRIPTION', 'NAME', 'UID'].includes(name) && /(?<!\\)(?:\\\\)*(?:[,;]|\\[^\\,;nN])/.test(value)) faults.push(`not escaped: ${line}`);
      if (name === 'VERSION' && value !== '2.0') faults.push('is not version 2.0');
      if (name === 'UID') { if (uids.has(value)) faults.push(`UID twice: ${value}`); uids.add(value); }
    }
  }
  return faults;
}

/// A time as WANTED.json writes it. toString() of ical.js keeps the Z of UTC, and floating times have none.
const shown = (time) => time?.toString();

function faultsOfEvent(component, wanted) {
  const faults = [], event = new ICAL.Event(component);
  const same = (what, found, due) => { if (found !== due) faults.push(`${wanted.summary}: ${what} is ${JSON.stringify(found)}, not ${JSON.stringify(due)}`); };
  same('summary', event.summary, wanted.summary);
  same('start', shown(event.startDate), wanted.start);
  same('end', shown(component.getFirstPropertyValue('dtend')) ?? undefined, wanted.end);
  if (wanted.end !== undefined && !(event.endDate.compare(event.startDate) > 0)) faults.push(`${wanted.summary}: ends before it starts`);
  if (wanted.waiting !== undefined) same('waiting', component.getFirstPropertyValue('transp') === 'TRANSPARENT', wanted.waiting);
  for (const part of [wanted.says ?? []].flat()) if (!(event.description ?? '').includes(part)) faults.push(`${wanted.summary}: does not say ${JSON.stringify(part)} but ${JSON.stringify(event.description)}`);
  const alarms = component.getAllSubcomponents('valarm');
  same('count of alarms', alarms.length, wanted.alarm ? 1 : 0);
  for (const a of alarms) {
    same('kind of alarm', a.getFirstPropertyValue('action'), 'DISPLAY');
    same('alarm, in seconds', a.getFirstPropertyValue('trigger').toSeconds?.(), -300);
    same('text of alarm', a.getFirstPropertyValue('description'), wanted.summary);
  }
  return faults;
}

function faultsOf(bytes, wanted) {
  const faults = faultsOfLines(bytes);
  let calendar;
  try { calendar = new ICAL.Component(ICAL.parse(bytes.toString('utf8'))); } catch (e) { return [...faults, `ical.js: ${e.message}`]; }
  const events = calendar.getAllSubcomponents('vevent');
  if (events.length !== wanted.events.length) return [...faults, `${events.length} events, not ${wanted.events.length}`];
  if (wanted.name !== undefined && calendar.getFirstPropertyValue('name') !== wanted.name) faults.push(`name is ${calendar.getFirstPropertyValue('name')}`);
  for (const [i, e] of events.entries()) {
    try { faults.push(...faultsOfEvent(e, wanted.events[i])); } catch (error) { faults.push(`${wanted.events[i].summary}: ${error.message}`); }
    if (wanted.stamp !== undefined && shown(e.getFirstPropertyValue('dtstamp')) !== wanted.stamp) faults.push(`DTSTAMP is ${shown(e.getFirstPropertyValue('dtstamp'))}`);
  }
  return faults;
}

const broken = {
  'bare line feeds': (s) => s.replaceAll('\r\n', '\n'),
  'no end of the last line': (s) => s.slice(0, -2),
  'a long line': (s) => s.replace('\r\n ', ''),
  'no UID': (s) => s.replace(/UID:.*\r\n/, ''),
  'one UID twice': (s) => s.replaceAll(/UID:.*\r\n/g, 'UID:1@curdwright.invalid\r\n'),
  'no stamp': (s) => s.replace(/DTSTAMP:.*\r\n/, ''),
  'a stamp without Z': (s) => s.replace(/(DTSTAMP:.*)Z\r\n/, '$1\r\n'),
  'a fruit for a time': (s) => s.replace(/DTSTART:.*\r\n/, 'DTSTART:banana\r\n'),
  'another start': (s) => s.replace(/DTSTART:(\d{8})T\d\d/, 'DTSTART:$1T03'),
  'another end': (s) => s.replace(/DTEND:(\d{8})T\d\d/, 'DTEND:$1T23'),
  'no alarm': (s) => s.replace(/BEGIN:VALARM[^]*?END:VALARM\r\n/, ''),
  'a late alarm': (s) => s.replace('TRIGGER:-PT5M', 'TRIGGER:PT5M'),
  'a bare comma': (s) => s.replace('\\,', ','),
  'a bare semicolon': (s) => s.replace('\\;', ';'),
  'another word': (s) => s.replace('SUMMARY:Soak', 'SUMMARY:Boil'),
  'one event less': (s) => s.replace(/BEGIN:VEVENT[^]*?END:VEVENT\r\n/, ''),
  'crossed ends': (s) => s.replace('END:VALARM\r\nEND:VEVENT', 'END:VEVENT\r\nEND:VALARM'),
  'a control character': (s) => s.replace('SUMMARY:So', 'SUMMARY:S\u0007o'),
};

const read = (ics, json) => [fs.readFileSync(ics), JSON.parse(fs.readFileSync(json, 'utf8'))];
let failed = 0, passed = 0;
const tell = (name, faults) => { for (const f of faults) console.log(`FAILED ${name}: ${f}`); if (faults.length > 0) failed += 1; else passed += 1; };
if (process.argv[2] === '--samples') {
  const folder = path.join(path.dirname(fileURLToPath(import.meta.url)), 'calendars');
  for (const f of fs.readdirSync(folder).filter((n) => n.endsWith('.ics')).sort()) {
    const [bytes, wanted] = read(path.join(folder, f), path.join(folder, f.replace('.ics', '.json')));
    tell(f, faultsOf(bytes, wanted));
    for (const [name, spoil] of Object.entries(broken)) {
      const bad = Buffer.from(spoil(bytes.toString('utf8')), 'utf8');
      tell(`${f}, ${name}`, bad.equals(bytes) ? ['spoils nothing'] : faultsOf(bad, wanted).length > 0 ? [] : ['was accepted']);
    }
  }
} else if (process.argv.length === 4) {
  tell(process.argv[2], faultsOf(...read(process.argv[2], process.argv[3])));
} else {
  console.log('node calendar.mjs FILE.ics WANTED.json, or node calendar.mjs --samples');
  process.exit(2);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
