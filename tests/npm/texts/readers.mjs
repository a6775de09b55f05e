// SPDX-License-Identifier: MIT
// Independent readers of what the program publishes, each giving the shape of a text (what it is built of) and its words.
import { Parser } from 'commonmark';
import { parse as parseCsv } from 'csv-parse/sync';
import ICAL from 'ical.js';
import jsonld from 'jsonld';
import MarkdownIt from 'markdown-it';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmFromMarkdown } from 'mdast-util-gfm';
import { gfm } from 'micromark-extension-gfm';

export const joiner = /\u2060/g;

/// CommonMark as its authors read it: kinds of nodes, one after the other.
export function commonmarkShape(text) {
  const kinds = [], walker = new Parser().parse(text).walker();
  for (let event = walker.next(); event; event = walker.next()) if (event.entering && event.node.type !== 'text' && event.node.type !== 'softbreak') kinds.push(event.node.type + (event.node.level ?? ''));
  return kinds;
}

/// GFM: tables, strike-through, task lists, bare links. The tree without its words.
export function gfmTree(text) { return fromMarkdown(text, { extensions: [gfm()], mdastExtensions: [gfmFromMarkdown()] }); }
export function gfmShape(node) {
  const own = node.type + (node.depth ?? '') + (node.ordered ? ' counted' : '') + (node.checked === false ? ' box' : '');
  const inner = (node.children ?? []).filter((c) => c.type !== 'text').map(gfmShape);
  return inner.length ? `${own}(${inner.join(' ')})` : own;
}
export function words(node) { return node.type === 'text' ? node.value : (node.children ?? []).map(words).join(node.type === 'tableRow' || node.type === 'root' || node.type === 'list' ? '\n' : ''); }

/// A reader that lets HTML through and makes links of what looks like one.
export function htmlElements(text) {
  const html = new MarkdownIt({ html: true, linkify: true, typographer: false }).render(text);
  return { html, elements: [...html.matchAll(/<([a-z][a-z0-9]*)/gi)].map((m) => m[1].toLowerCase()) };
}

export const allowedNodes = new Set(['root', 'heading', 'paragraph', 'text', 'strong', 'emphasis', 'list', 'listItem', 'table', 'tableRow', 'tableCell', 'blockquote']);
export const allowedElements = new Set(['h1', 'h2', 'h3', 'p', 'strong', 'em', 'ul', 'ol', 'li', 'table', 'thead', 'tbody', 'tr', 'th', 'td', 'blockquote']);
export function kindsOf(node, all = new Set()) { all.add(node.type); for (const c of node.children ?? []) kindsOf(c, all); return all; }

/// Rows; throws on a quote out of place, and on rows of unlike length.
export function csvRows(text) { return parseCsv(text, { relax_column_count: false, record_delimiter: '\r\n' }); }
/// Cells that a table program would reckon with, and that are no numbers.
export function formulas(rows) { return rows.flat().filter((c) => /^[\s]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r]/.test(c) && !/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(c)); }

export function calendarEvents(text) {
  const component = new ICAL.Component(ICAL.parse(text));
  return { name: component.getFirstPropertyValue('name'), events: component.getAllSubcomponents('vevent').map((e) => new ICAL.Event(e)) };
}
ICAL.design.defaultSet.property.name = { defaultType: 'text' };

/// The context of schema.org as far as a reader needs it, without the network: every word is one of its vocabulary.
const context = { '@context': { '@vocab': 'http://schema.org/' } };
export async function expanded(document) {
  return jsonld.expand(document, { safe: true, documentLoader: async (url) => {
    if (!/^https?:\/\/schema\.org\/?$/.test(url)) throw new Error(`a context from ${url}`);
    return { contextUrl: null, documentUrl: url, document: context };
  } });
}
/// Keys and kinds of a JSON value, without its words and numbers.
export function jsonShape(value) {
  if (Array.isArray(value)) return `[${value.map(jsonShape).join(',')}]`;
  if (value && typeof value === 'object') return `{${Object.entries(value).map(([k, v]) => `${k}:${jsonShape(v)}`).join(',')}}`;
  return typeof value;
}

/// What drives a terminal, or turns the direction of text: C0 but for the end of a line, DEL, C1, bidi controls; and what is no UTF-8.
export const driving = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\u{e0000}-\u{e007f}\ufffd]/u;
