import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { jsonSchema } from '#api/apiDocument.ts';
import { dayMs, hourMs, minuteMs } from '#shared/durations.ts';
import { type RecordKind, recordSchemas } from '#shared/entries/entry.ts';
import { faultOfName } from '#shared/nameText.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { aBrewery, aStrain } from '#tests/support/brewery.ts';
import { launchChromium, policyReports } from './chromium.ts';
import { type Site, startSite } from './site.ts';

// What people have typed into forms to see whether it runs.
const hostile = [
  '<img src=x onerror=alert(1)>',
  '"><svg/onload=alert(2)>',
  '<script>alert(3)</script>',
  '</script><script>alert(4)</script>',
  '</textarea><b onmouseover=alert(5)>',
  "' onfocus=alert(6) autofocus='",
  '<iframe srcdoc="<script>alert(7)</script>">',
  'javascript:alert(8)',
  '<a href="javascript:alert(9)">tap</a>',
  '{{constructor.constructor("alert(10)")()}}',
  '\x24{alert(11)}',
  '<math><mi//xlink:href="data:x,<script>alert(12)</script>">',
  '<svg><animate onbegin=alert(13) attributeName=x dur=1s>',
  '<style>*{display:none}</style>',
  '<base href="//evil.example/">',
  '<meta http-equiv=refresh content="0;url=//evil.example">',
  '&lt;img src=x onerror=alert(14)&gt;',
  '&#x3C;b&#x3E;',
  '\u202Egnp.exe',
  'a\u200Bb\u2060c\uFEFFd',
  'Z\u0351\u036B\u0343a\u0363\u0369l\u0348go',
  '=HYPERLINK("//evil.example")',
  '../../etc/passwd',
  "'; DROP TABLE journal; --",
  '%00%0d%0aSet-Cookie: x=1',
  '\\u003cscript\\u003e',
  'constructor',
  '__proto__',
  '🍺'.repeat(10),
  'W'.repeat(400),
];

let browser: Browser;
let site: Site;
let page: Page;
const faults: string[] = [];
let reports: string[] = [];
const shown: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
  site = await startSite();
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  reports = await policyReports(context);
  page = await context.newPage();
  page.setDefaultTimeout(30_000);
  page.on('dialog', (dialog) => {
    faults.push(`A dialog opened on ${page.url()}: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
  page.on('console', (said) => {
    if (said.type() === 'error') faults.push(`${page.url()}: ${said.text()}`);
  });
  await page.context().route(/evil\.example/, (route) => {
    faults.push(`Asked for ${route.request().url()}`);
    return route.abort();
  });
  await site.enter(page);
}, 300_000);
afterAll(async () => {
  await browser?.close();
  await site?.close();
}, 60_000);

/** Texts in which a character nobody sees is refused. */
const names: ReadonlySet<string> = new Set(['by', 'name', 'code', 'gyle', 'beer', 'medium']);
const isSeen = (text: string) => faultOfName('It', text) === undefined;

let turn = 0;
const used = new Map<string, string>();

/** Puts the next of the strings into every free text of an entry. */
function withHostileTexts(kind: RecordKind, facts: Record<string, unknown>) {
  const schema = jsonSchema(recordSchemas[kind]);
  const texts: Record<string, string> = {};
  for (const [name, part] of Object.entries(Object(schema.properties))) {
    const { type, pattern, format, maxLength, ...rest } = Object(part);
    const isFree = type === 'string' && pattern === undefined && format === undefined;
    if (!isFree || 'enum' in rest || 'const' in rest || name in facts) continue;
    if (['timeZone', 'importId', 'override', 'reason', 'binCode'].includes(name)) continue;
    const allowed = names.has(name) ? hostile.filter(isSeen) : hostile;
    const fitting = allowed.map((text) => [...text].slice(0, maxLength).join(''));
    texts[name] = fitting[turn % allowed.length] ?? '';
    used.set(`${kind}.${name}`, texts[name]);
    turn += 1;
  }
  return { kind, happenedAt: new Date(Date.now() - minuteMs).toISOString(), ...facts, ...texts };
}

/** What an entry states but when, by whom and under which name, which are free texts. */
function factsOf({
  kind: _kind,
  happenedAt: _at,
  by: _by,
  name: _name,
  ...facts
}: ReturnType<typeof aBrewery> | ReturnType<typeof aStrain>) {
  return facts;
}

let serial = 0;
async function write(kind: RecordKind, facts: Record<string, unknown> = {}): Promise<string> {
  serial += 1;
  const id = uuidV7(Date.now() + serial, crypto.getRandomValues(new Uint8Array(10)));
  const answer = await page.request.put(`${site.url}/api/entries/${id}`, {
    headers: { origin: site.url, 'content-type': 'application/json' },
    data: JSON.stringify(withHostileTexts(kind, facts)),
  });
  expect(answer.status(), `${kind}: ${await answer.text()}`).toBe(201);
  return id;
}

async function visit(path: string): Promise<void> {
  await page.goto(`${site.url}${path}`);
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  await page.waitForLoadState('networkidle');
  for (const closed of await page.locator('details:not([open]) > summary').all())
    await closed.click({ timeout: 2_000 }).catch(() => undefined);
  const foreign = await page.evaluate(() => {
    const made =
      'img[src="x"], iframe, base, math, animate, b[onmouseover], style, script:not([src])';
    return [...document.querySelectorAll(`#app :is(${made})`)].map((node) => node.outerHTML);
  });
  if (foreign.length > 0) faults.push(`${path}: ${foreign.join(' ')}`);
  shown.push(...(await page.locator('body').allInnerTexts()));
  shown.push(...(await page.locator('option').allTextContents()));
}

test('what people type is shown as they typed it on every page, and none of it runs', {
  timeout: 600_000,
}, async () => {
  const hoursAgo = (hours: number) => new Date(Date.now() - hours * hourMs).toISOString();
  await write('brewery', factsOf(aBrewery()));
  const strainId = await write('strain', factsOf(aStrain()));
  const [vesselId, otherVesselId] = [await write('vessel'), await write('vessel')];
  const fresh = await write('freshCulture', {
    strainId,
    origin: 'bought',
    generation: 0,
    amountL: 40,
    happenedAt: hoursAgo(60),
  });
  const wort = { strainId, volumeL: 1600, originalGravitySg: 1.04 };
  const fermentId = await write('ferment', {
    ...wort,
    gyle: '412',
    vesselId,
    happenedAt: hoursAgo(59),
  });
  await write('pitch', { fermentId, lotId: fresh, amountL: 11, happenedAt: hoursAgo(58) });
  await write('reading', { fermentId, gravitySg: 1.02, happenedAt: hoursAgo(20) });
  const crop = await write('crop', {
    fermentId,
    cut: 'skim 2',
    amountL: 30,
    happenedAt: hoursAgo(10),
  });
  await write('storeReading', { lotId: crop, tempC: 3 });
  await write('stain', { lotId: crop, stain: 'methylene blue', live: 388, dead: 12 });
  await write('treatment', { lotId: crop, treatment: 'sieving' });
  await write('discard', { lotId: crop, amountL: 1 });
  await write('hold', { lotId: crop });
  await write('ferment', { ...wort, gyle: '413', vesselId: otherVesselId });
  await write('plannedBrew', {
    ...wort,
    onDay: new Date(Date.now() + 2 * dayMs).toISOString().slice(0, 10),
  });
  expect(used.size).toBeGreaterThan(25);

  const paths = ['/', '/yeast', '/pitch', '/crop', '/bench', '/ferments', '/lines', '/setup'];
  const more = ['/plan', '/people', '/setup/records', '/outbox', '/yeast/new', '/ferments/new'];
  const records = [`/yeast/${crop}`, `/yeast/${fresh}`, `/bench?lot=${crop}`, `/label?lot=${crop}`];
  const ferments = [`/ferments/${fermentId}`, `/crop?ferment=${fermentId}`, `/lines/${fresh}`];
  for (const path of [...paths, ...more, ...records, ...ferments, `/pitch?lot=${crop}`])
    await visit(path);

  expect(faults).toEqual([]);
  expect(reports).toEqual([]);
  const seen = shown.join('\n').replace(/\s+/g, ' ');
  const unseen = [...used].filter(([, text]) => !seen.includes(text.trim().replace(/\s+/g, ' ')));
  const mustBeSeen = ['brewery.name', 'strain.name', 'vessel.name', 'ferment.beer', 'hold.why'];
  expect(unseen.filter(([field]) => mustBeSeen.includes(field))).toEqual([]);
  // Notes of set-up are shown in their forms only.
  expect(unseen.length).toBeLessThan(used.size / 2);
});

test('what is typed into the search of the address bar runs no more than what is stored', async () => {
  faults.length = 0;
  for (const text of hostile.slice(0, 12)) {
    const query = encodeURIComponent(text);
    await visit(`/pitch?lot=${query}&ferment=${query}`);
    await visit(`/${query}`);
  }
  // An id that is none is refused by the server, which the browser notes as a failed resource.
  expect(faults.filter((fault) => !/status of 4\d\d/.test(fault))).toEqual([]);
}, 300_000);

test('no page can make a script or markup out of text, nor a policy of its own', async () => {
  await page.goto(site.url);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  // Code that got into a page would try these; each is run by the page's own rules.
  const refusals = await page.evaluate(() => {
    const refusalOf = (attempt: () => unknown) => {
      try {
        attempt();
        return 'let through';
      } catch (error) {
        return error instanceof TypeError ? 'refused' : String(error);
      }
    };
    const makers = Object(globalThis).trustedTypes;
    return [
      refusalOf(() => document.body.insertAdjacentHTML('beforeend', '<b>text</b>')),
      refusalOf(() => Object.assign(document.createElement('script'), { src: '/x.js' })),
      refusalOf(() => Object.assign(document.createElement('script'), { text: 'alert(1)' })),
      refusalOf(() => makers.createPolicy('another', {})),
      refusalOf(() => makers.createPolicy('barmbook-worker', {})),
    ];
  });
  expect(refusals).toEqual(Array.from({ length: 5 }, () => 'refused'));
  // Chromium reports each attempt, so that the count above of none means something.
  expect(reports.length).toBeGreaterThanOrEqual(5);
}, 60_000);
