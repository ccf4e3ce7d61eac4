import { expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { vesselsInUse } from '#db/reads/ferments.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { aFerment, aStrain, at, nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

const units = {
  volume: 'L',
  amount: 'L',
  gravity: 'sg',
  temperature: '°C',
  dateOrder: 'day first',
  timeZone: 'Europe/London',
} as const;

const ferments = `Gyle;Beer;FV;Yeast;Collected;Volume;OG;Racked;Casks
301;Headland Bitter;FV1;TN;02/02/2026 11:00;1636,6;1040;06/02/2026 09:00;C301;K301
302;Headland Bitter;FV1;Tern;09/02/2026 11:00;1600;1.041;13/02/2026;C302`.replace(
  'C301;K301',
  '"C301;K301"',
);
const lots = `Code,Strain,Taken,Amount,From gyle,Gone
F1,Tern,01/02/2026 09:00,20,,04/02/2026
C1,Tern,04/02/2026 10:00,30,301,14/02/2026`;
const pitches = `Gyle,Lot,Amount,Pitched
301,F1,11,02/02/2026 12:00
302,C1,12.5,09/02/2026 12:30`;
const readings = `Gyle,Date,SG,Temp
301,03/02/2026 08:00,1030,20.5
301,04/02/2026 08:00,1.012,21`;
const counts = `Lot,Counted,Squares,Dilution,Live,Dead
C1,09/02/2026 08:00,38;41;35;37;36,100,388,12`;

const sheet = (kind: string, csv: string) => ({ kind, csv, units });
const story = {
  sheets: [
    sheet('ferments', ferments),
    sheet('lots', lots),
    sheet('pitches', pitches),
    sheet('readings', readings),
    sheet('counts', counts),
  ],
};

async function aBrewery() {
  const api = await anApi();
  api.setHours(1);
  await api.put(aStrain());
  await api.put({ kind: 'vessel', happenedAt: at(0), by: 'Ines', name: 'FV1' });
  return api;
}

test('old records that name one another come in as one, and the same files again change nothing', async () => {
  const { send, get, post, database } = await aBrewery();
  const preview = await (await post('/api/imports/preview', story)).json();
  expect(preview).toMatchObject({ entries: 14, isReady: true });
  expect(preview.sheets[0].becomes[0]).toMatchObject({
    row: 2,
    entry: { kind: 'ferment', gyle: '301', volumeL: 1636.6, originalGravitySg: 1.04 },
  });
  expect(await (await get('/api/ferments')).json()).toMatchObject({ items: [] });

  const id = nextId();
  const first = await send('PUT', `/api/imports/${id}`, story);
  expect([first.status, await first.json()]).toEqual([201, { id, entries: 14 }]);
  const { items } = await (await get('/api/lots/in-store')).json();
  expect(items).toEqual([]);
  const crop = await (await get('/api/crops')).json();
  expect(crop.items).toMatchObject([
    { code: 'C1', amountL: 30, happenedAt: '2026-02-04T10:00:00.000Z' },
  ]);
  const discards = await (await get('/api/discards')).json();
  expect(discards.items.map(({ amountL }: { amountL: number }) => amountL).sort()).toEqual([
    17.5, 9,
  ]);
  const racks = await (await get('/api/racks')).json();
  expect(racks.items.map(({ batches }: { batches: string[] }) => batches)).toContainEqual([
    'C301',
    'K301',
  ]);

  await send('PUT', `/api/imports/${id}`, story);
  expect((await verifyChain(database)).entries).toBe(16);
  const before = await projectionDump(database);
  await rebuild(database);
  expect(await projectionDump(database)).toEqual(before);
});

test('an import is undone as one, and the journal keeps both', async () => {
  const { send, get, post, database } = await aBrewery();
  const id = nextId();
  await send('PUT', `/api/imports/${id}`, story);
  const undone = await post(`/api/imports/${id}/undo`, { reason: 'Wrong year' });
  expect(await undone.json()).toEqual({ struckOut: 14 });
  expect(await (await get('/api/ferments')).json()).toMatchObject({ items: [] });
  expect(await (await get('/api/imports')).json()).toMatchObject({
    items: [{ id, by: 'Ines', entries: 14, standing: 0 }],
  });
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: 30 });
});

test('an import that was undone, or never was, is not said to be brought in or undone', async () => {
  const { send, post } = await aBrewery();
  const id = nextId();
  const undo = () => post(`/api/imports/${id}/undo`, { reason: 'Wrong year' });
  expect((await undo()).status).toBe(404);
  expect((await send('PUT', `/api/imports/${id}`, story)).status).toBe(201);
  const again = await send('PUT', `/api/imports/${id}`, story);
  expect([again.status, await again.json()]).toEqual([200, { id, entries: 14 }]);
  expect((await undo()).status).toBe(200);
  expect((await send('PUT', `/api/imports/${id}`, story)).status).toBe(409);
});

test('what was recorded since keeps an import from being undone in part', async () => {
  const { send, put, post, get } = await aBrewery();
  const id = nextId();
  await send('PUT', `/api/imports/${id}`, story);
  const [lot] = (await (await get('/api/crops')).json()).items;
  await put({ kind: 'storeReading', happenedAt: at(0), by: 'Ines', lotId: lot.id, tempC: 3 });
  const refused = await post(`/api/imports/${id}/undo`, { reason: 'Wrong year' });
  expect(refused.status).toBe(409);
  expect((await (await get('/api/imports')).json()).items[0].standing).toBe(14);
});

test('each row that cannot be read is named with its column, and nothing comes in', async () => {
  const { send, get, post } = await aBrewery();
  const bad = {
    sheets: [
      sheet(
        'ferments',
        'Gyle,Beer,FV,Strain,Collected,Volume,OG\n301,,FV9,Tern,31/02/2026,1600 hL,13\n302,Bitter,FV1,Tern,01/02/2026,1600,1040',
      ),
    ],
  };
  const preview = await (await post('/api/imports/preview', bad)).json();
  expect(preview.isReady).toBe(false);
  expect(preview.sheets[0].problems).toEqual([
    {
      row: 2,
      column: 'vessel',
      message:
        'There is no fermenter FV9 in Setup: add it there, or write it here as it is written there',
    },
    {
      row: 2,
      column: 'collectedAt',
      message: '31/02/2026 is no date and time; write it like 01/03/2026 09:30',
    },
    { row: 2, column: 'volume', message: 'It is asked in litres, but “hL” was typed' },
    {
      row: 2,
      column: 'og',
      message: '13 is no specific gravity: is 1013 meant; as °P it would be 1052.6?',
    },
    { row: 2, column: 'beer', message: 'This cell is needed and is blank' },
  ]);
  const refused = await send('PUT', `/api/imports/${nextId()}`, bad);
  expect(refused.status).toBe(422);
  expect((await refused.json()).errors[0]).toEqual({
    path: 'sheets.0.rows.2.vessel',
    message:
      'There is no fermenter FV9 in Setup: add it there, or write it here as it is written there',
  });
  expect(await (await get('/api/ferments')).json()).toMatchObject({ items: [] });
});

test('rows are held to the same rules as entries typed by hand', async () => {
  const { post } = await aBrewery();
  const twice = {
    sheets: [
      sheet(
        'ferments',
        'Gyle,Beer,FV,Strain,Collected,Volume,OG\n301,Bitter,FV1,Tern,01/02/2026,1600,1040\n302,Bitter,FV1,Tern,02/02/2026,1600,1040',
      ),
    ],
  };
  const preview = await (await post('/api/imports/preview', twice)).json();
  expect(preview.sheets[0].problems).toEqual([
    {
      row: 3,
      column: 'vessel',
      message: 'FV1 still holds gyle 301: record its racking first',
    },
  ]);
});

/** As an office program saves it: a mark in front, a title, semicolons, decimal commas, units in headings. */
const messy = `\uFEFFBrew log 2026;;;;;;;
;;;;;;;
Gyle no;Beer;Tank;Yeast strain;Brew date;Length (hL);OG (°P);Colour EBC
301;Headland Bitter;FV1;Tern;02/02/2026 11:00;16,4;10,2;24
;;;;;;;
302;Headland Bitter;FV1;Tern;2026-02-09;16,0;10,1;25`;

test('a messy file is read by the units its headings name, and what is not ours is left aside', async () => {
  const { post } = await aBrewery();
  const preview = await (
    await post('/api/imports/preview', { sheets: [sheet('ferments', messy)] })
  ).json();
  const [file] = preview.sheets;
  expect(file).toMatchObject({
    rows: 2,
    columnUnits: { volume: { volume: 'hL' }, og: { gravity: 'plato' } },
  });
  expect(file.headings).toContain('Colour EBC');
  expect(Object.values(file.mapping)).not.toContain('Colour EBC');
  expect(file.becomes).toMatchObject([
    { row: 4, entry: { gyle: '301', volumeL: 1640, happenedAt: '2026-02-02T11:00:00.000Z' } },
    { row: 6, entry: { gyle: '302', volumeL: 1600, happenedAt: '2026-02-09T12:00:00.000Z' } },
  ]);
  // 10.2 °P is 1.0408 by the table of the American Society of Brewing Chemists, from memory.
  expect(file.becomes[0].entry.originalGravitySg).toBeCloseTo(1.0408, 3);
  // FV1 still holds the first: told by the row and the column a person sees in the file.
  expect(file.problems).toMatchObject([{ row: 6, column: 'vessel' }]);
});

test('a unit in a heading that may be two is asked for, not guessed', async () => {
  const { post } = await aBrewery();
  const csv =
    'Gyle,Beer,FV,Strain,Collected,Volume (bbl),OG\n301,Bitter,FV1,Tern,01/02/2026,10,1040';
  const body = { sheets: [sheet('ferments', csv)] };
  const preview = await (await post('/api/imports/preview', body)).json();
  expect(preview.sheets[0].problems).toEqual([
    {
      row: 1,
      column: 'volume',
      message: 'Its heading says bbl, which may be UK brl or US bbl: choose one above',
    },
  ]);
  const chosen = { ...sheet('ferments', csv), units: { ...units, volume: 'UK brl' } };
  const settled = await (await post('/api/imports/preview', { sheets: [chosen] })).json();
  expect(settled.isReady).toBe(true);
  // A UK barrel is 36 imperial gallons of 4.54609 L (Weights and Measures Act 1985).
  expect(settled.sheets[0].becomes[0].entry.volumeL).toBeCloseTo(1636.59, 2);
});

test('a row that no form would take is named and not brought in, and every page goes on', async () => {
  const { send, get, post } = await aBrewery();
  const odd = {
    sheets: [
      sheet(
        'ferments',
        'Gyle,Beer,FV,Strain,Collected,Volume,OG\nA 301,Bitter,FV1,Tern,01/02/2026,1600,1040',
      ),
    ],
  };
  const message = 'Gyle number may hold capital letters, digits, / and -';
  const preview = await (await post('/api/imports/preview', odd)).json();
  expect(preview.sheets[0].problems).toEqual([{ row: 2, column: 'gyle', message }]);
  const refused = await send('PUT', `/api/imports/${nextId()}`, odd);
  expect(refused.status).toBe(422);
  expect((await refused.json()).errors).toEqual([{ path: 'sheets.0.rows.2.gyle', message }]);
  expect(await (await get('/api/ferments/current')).json()).toMatchObject({ items: [] });
});

const head = 'Gyle,Beer,FV,Strain,Collected,Volume,OG,Racked';

/** FV1 holds gyle 303, collected on 2 March 2026 at 09:00. */
async function aBusyBrewery() {
  const api = await aBrewery();
  const [vessel] = (await (await api.get('/api/vessels')).json()).items;
  const [strain] = (await (await api.get('/api/strains')).json()).items;
  await api.write(1, aFerment({ gyle: '303', vesselId: vessel.id, strainId: strain.id }));
  return api;
}

test('old gyles come into a log whose fermenter is in use, when they were racked before', async () => {
  const { send, database } = await aBusyBrewery();
  const csv = `${head}
301,Bitter,FV1,Tern,20/02/2026 11:00,1600,1040,25/02/2026 09:00
302,Bitter,FV1,Tern,25/02/2026 09:00,1600,1040,02/03/2026 09:00`;
  const body = { sheets: [sheet('ferments', csv)] };
  const done = await send('PUT', `/api/imports/${nextId()}`, body);
  expect([done.status, (await done.json()).entries]).toEqual([201, 4]);
  const running = (await vesselsInUse(database.query)).map(({ holds }) => holds?.gyle);
  expect(running).toEqual(['303']);
  const before = await projectionDump(database);
  await rebuild(database);
  expect(await projectionDump(database)).toEqual(before);
});

test('an old gyle without its racking, or racked while the next was in, is named by row', async () => {
  const { post } = await aBusyBrewery();
  const problemsOf = async (row: string) => {
    const body = { sheets: [sheet('ferments', `${head}\n${row}`)] };
    return (await (await post('/api/imports/preview', body)).json()).sheets[0].problems;
  };
  const [open] = await problemsOf('301,Bitter,FV1,Tern,20/02/2026 11:00,1600,1040,');
  expect(open).toEqual({
    row: 2,
    column: 'vessel',
    message: 'FV1 held gyle 303 afterwards: give the time at which this one was racked',
  });
  const row = '301,Bitter,FV1,Tern,20/02/2026 11:00,1600,1040,02/03/2026 09:01';
  expect((await problemsOf(row))[0]).toEqual({
    row: 2,
    column: 'vessel',
    message: 'FV1 held gyle 303 before this one was racked: check the times',
  });
});

test('a name that two rows or a row and the log bear is told by row, since others could mean either', async () => {
  const { post, send } = await aBrewery();
  await send('PUT', `/api/imports/${nextId()}`, { sheets: [sheet('ferments', ferments)] });
  const twice = `${lots}\nc1,Tern,05/02/2026 10:00,3,301,\n`;
  const again = 'Gyle,Beer,FV,Yeast,When,Volume,OG\n302,Bitter,FV1,Tern,01/03/2026,1600,1040';
  const asked = { sheets: [sheet('ferments', again), sheet('lots', twice)] };
  const preview = await (await post('/api/imports/preview', asked)).json();
  expect(preview.isReady).toBe(false);
  expect(preview.sheets.map(({ problems }: { problems: unknown }) => problems)).toEqual([
    [
      {
        row: 2,
        column: 'gyle',
        message: 'Gyle 302 is in the log already: give each a name of its own',
      },
    ],
    [
      {
        row: 4,
        column: 'code',
        message: 'Lot c1 is in a row above already: give each a name of its own',
      },
    ],
  ]);
});

test('squares may stand with commas or spaces between, but not with a fraction', async () => {
  const { post } = await aBrewery();
  const rows = ['38,41,35', '38 41 35', '38; 41; 35'].map(
    (squares) => `F1;01/02/2026 10:00;"${squares}";100`,
  );
  const asked = (lines: string[]) => ({
    sheets: [
      sheet('lots', lots.replace(',301,', ',,')),
      sheet('counts', ['Lot;When;Squares;Dilution', ...lines].join('\n')),
    ],
  });
  const preview = await (await post('/api/imports/preview', asked(rows))).json();
  expect(preview.isReady).toBe(true);
  for (const { entry } of preview.sheets[1].becomes)
    expect(entry.fillings[0].squares).toEqual([38, 41, 35]);

  const wrong = asked(['F1;01/02/2026 10:00;38.5 41;100', 'F1;01/02/2026 10:00;38;100;41']);
  const refused = await (await post('/api/imports/preview', wrong)).json();
  expect(refused.isReady).toBe(false);
  expect(refused.sheets[1].problems).toEqual([
    {
      row: 2,
      column: 'squares',
      message: 'Write whole numbers with semicolons between them, such as 38; 41; 35',
    },
    {
      row: 3,
      column: '',
      message:
        'This row has more cells than there are headings: put what holds the separating mark in "quotation marks"',
    },
  ]);
});
