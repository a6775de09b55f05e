// SPDX-License-Identifier: MIT
// The bills of materials against the official schema of CycloneDX 1.6, licence ids among them; broken ones are refused.
//     node sbom.mjs FILE...
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import Ajv from 'ajv/dist/2019.js';
import addFormats from 'ajv-formats';

const folder = path.join(path.dirname(createRequire(import.meta.url).resolve('@cyclonedx/cyclonedx-library/package.json')), 'res', 'schema');
const schema = (name) => JSON.parse(fs.readFileSync(path.join(folder, `${name}.SNAPSHOT.schema.json`), 'utf8'));
const plain = ({ $schema, ...rest }) => rest;
const ajv = new Ajv({ strict: false, allErrors: true });
addFormats(ajv);
for (const format of ['iri-reference', 'idn-email']) ajv.addFormat(format, true);
const spdx = schema('spdx');
ajv.addSchema(plain(spdx), 'http://cyclonedx.org/schema/spdx.SNAPSHOT.schema.json');
ajv.addSchema(plain(schema('jsf-0.82')), 'http://cyclonedx.org/schema/jsf-0.82.SNAPSHOT.schema.json');
const validate = ajv.compile(plain(schema('bom-1.6')));

let failed = 0, passed = 0;
const check = (name, ok, why = '') => {
  if (ok) passed += 1;
  else { failed += 1; console.log(`FAILED ${name} ${why}`); }
};
const words = new Set(spdx.enum);
const files = process.argv.slice(2);
check('files named', files.length > 0);
for (const file of files) {
  const bill = JSON.parse(fs.readFileSync(file, 'utf8'));
  const name = bill.metadata.component.name;
  check(name, validate(bill), ajv.errorsText(validate.errors, { separator: '\n  ' }));
  const refs = bill.components.map((c) => c['bom-ref']);
  check(`${name}: needs what it lists`, JSON.stringify(bill.dependencies[0].dependsOn) === JSON.stringify(refs) && new Set(refs).size === refs.length);
  for (const c of [bill.metadata.component, ...bill.components]) {
    const ids = c.licenses.flatMap((l) => l.expression.split(/ (?:AND|OR|WITH) /));
    check(`${name}: licences of ${c.name}`, ids.length > 0 && ids.every((id) => words.has(id)), ids.join(', '));
    check(`${name}: version of ${c.name}`, /^[0-9][0-9.]*$/.test(c.version) && c.purl.startsWith('pkg:'), c.version);
  }
  const broken = (change) => { const b = structuredClone(bill); change(b); return !validate(b); };
  check(`${name}: a scope of its own is refused`, broken((b) => { b.components[0].scope = 'perhaps'; }));
  check(`${name}: a part without a name is refused`, broken((b) => { delete b.components[0].name; }));
  check(`${name}: a licence id that is none is refused`, broken((b) => { b.components[0].licenses = [{ license: { id: 'MTI' } }]; }));
  check(`${name}: an unknown key is refused`, broken((b) => { b.parts = []; }));
}
console.log(`bills of materials: ${passed} checks passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
