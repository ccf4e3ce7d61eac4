PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE schema_migration (
       number INTEGER PRIMARY KEY, name TEXT NOT NULL, sha256 TEXT NOT NULL, applied_ms INTEGER NOT NULL
     ) STRICT;
INSERT INTO schema_migration VALUES(1,'0001_journal.sql','9b82361176753921cd513d20b45559756ad395456cb408f40ab0c633091e1079',1772438400000);
INSERT INTO schema_migration VALUES(2,'0002_projections.sql','c1c62d469a3ca59e9f956c04289109a5ab080cc4e20c7d9a60c21e9b8beb5e14',1772438400000);
CREATE TABLE journal (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
  kind TEXT NOT NULL,
  record_id TEXT NOT NULL CHECK (length(record_id) = 36),
  supersedes TEXT UNIQUE REFERENCES journal (id) ON DELETE RESTRICT ON UPDATE RESTRICT,
  reason TEXT CHECK (reason IS NULL OR length(trim(reason)) BETWEEN 1 AND 500),
  by_name TEXT NOT NULL CHECK (length(trim(by_name)) > 0),
  actor TEXT NOT NULL,
  via TEXT NOT NULL CHECK (via IN ('web', 'device', 'import', 'system')),
  happened_at TEXT NOT NULL,
  happened_ms INTEGER NOT NULL,
  received_ms INTEGER NOT NULL,
  request_sha256 TEXT NOT NULL CHECK (length(request_sha256) = 64),
  body TEXT NOT NULL CHECK (json_valid(body)),
  warnings TEXT NOT NULL CHECK (json_valid(warnings)),
  prev_hash TEXT NOT NULL UNIQUE CHECK (length(prev_hash) = 64),
  hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
  CHECK ((supersedes IS NULL) = (reason IS NULL))
) STRICT;
INSERT INTO journal VALUES(1,'019cad8f-ac01-7000-8000-000000010000','brewery','019cad8f-ac01-7000-8000-000000010000',NULL,NULL,'Ines','local','web','2026-03-02T08:00:00.000Z',1772438400000,1772438460000,'5fda97b3f5439b938ca8f7f968c46ed748842731996eac796965a19701f5bad6','{"budRule":"half the mother or larger","by":"Ines","chamberCvPercent":5,"edgeRule":"top and left in","firstGeneration":0,"gravityUnit":"SG","happenedAt":"2026-03-02T08:00:00.000Z","kind":"brewery","massUnit":"kg","name":"Saltpan","pipettingCvPercent":3,"temperatureUnit":"°C","timeZone":"Europe/London","volumeUnit":"L"}','[]','0000000000000000000000000000000000000000000000000000000000000000','fb6a02fc1bdc5930e37e7cd679ba43eff22cd700bea54600f9703ddf7cd6148b');
INSERT INTO journal VALUES(2,'019cad8f-ac02-7000-8000-000000020000','strain','019cad8f-ac02-7000-8000-000000020000',NULL,NULL,'Ines','local','web','2026-03-02T08:00:00.000Z',1772438400000,1772438460000,'1126cc3b02c715d14ecd6f978458d12fe8e107695d1b09a6c7ee0a9dfcc03a49','{"by":"Ines","code":"TN","crops":"top","happenedAt":"2026-03-02T08:00:00.000Z","kind":"strain","leadTimeDays":14,"maxGenerations":10,"maxStorageDays":4,"minViabilityPercent":90,"name":"Tern","rateMillionPerMlPerPlato":0.75,"staleCountHours":24,"storeHighC":4,"storeLowC":1,"tempHighC":22,"tempLowC":15}','[]','fb6a02fc1bdc5930e37e7cd679ba43eff22cd700bea54600f9703ddf7cd6148b','a7864d2aa7300597844d73024511133af25e347c1bdfc1955c2912ebab03c0f9');
INSERT INTO journal VALUES(3,'019cad8f-ac03-7000-8000-000000030000','vessel','019cad8f-ac03-7000-8000-000000030000',NULL,NULL,'Ines','local','web','2026-03-02T08:00:00.000Z',1772438400000,1772438460000,'7a4796aa8d1c15220b35b20cd1c2028db852b07ed0a05d3aaa627651c15bd7b6','{"by":"Ines","happenedAt":"2026-03-02T08:00:00.000Z","kind":"vessel","name":"FV1"}','[]','a7864d2aa7300597844d73024511133af25e347c1bdfc1955c2912ebab03c0f9','5f0a35b86c699e6e7ab5c39ccc4ccbf7ce95ee484cb049f7dfbc5d1332a86bca');
INSERT INTO journal VALUES(4,'019cad8f-ac04-7000-8000-000000040000','freshCulture','019cad8f-ac04-7000-8000-000000040000',NULL,NULL,'Ines','local','web','2026-03-02T08:00:00.000Z',1772438400000,1772438460000,'e5e9f7e09e09ccd54cac56f3db933ff15b6b7ec42dc1b5bddc79bfddd1bfb080','{"amountL":20,"by":"Ines","code":"TN-F1","generation":0,"happenedAt":"2026-03-02T08:00:00.000Z","kind":"freshCulture","origin":"bought","strainId":"019cad8f-ac02-7000-8000-000000020000"}','[]','5f0a35b86c699e6e7ab5c39ccc4ccbf7ce95ee484cb049f7dfbc5d1332a86bca','0cef73c6e2e4704b549ee33494178e833efea38ff8ecd39c3cffbddf5b12b318');
INSERT INTO journal VALUES(5,'019cad8f-ac05-7000-8000-000000050000','ferment','019cad8f-ac05-7000-8000-000000050000',NULL,NULL,'Ines','local','web','2026-03-02T09:00:00.000Z',1772442000000,1772442060000,'3aa2752dc01f292ae7ff954078858fd32105ed2ddfe8aeed15676407394ee10e','{"beer":"Headland Bitter","by":"Ines","gyle":"412","happenedAt":"2026-03-02T09:00:00.000Z","kind":"ferment","originalGravitySg":1.04,"strainId":"019cad8f-ac02-7000-8000-000000020000","vesselId":"019cad8f-ac03-7000-8000-000000030000","volumeL":1636.59}','[]','0cef73c6e2e4704b549ee33494178e833efea38ff8ecd39c3cffbddf5b12b318','7e8ce87ddfef533dceae0e86c541f9e5f0d20b5c7f837a014125b683020ef1e7');
INSERT INTO journal VALUES(6,'019cad8f-ac06-7000-8000-000000060000','pitch','019cad8f-ac06-7000-8000-000000060000',NULL,NULL,'Ines','local','web','2026-03-02T10:00:00.000Z',1772445600000,1772445660000,'a1062f67a58a7b09fa5af88c579a3ee7131674a4fa4806a0f7a65b129eff2bbe','{"amountL":11,"by":"Ines","fermentId":"019cad8f-ac05-7000-8000-000000050000","happenedAt":"2026-03-02T10:00:00.000Z","kind":"pitch","lotId":"019cad8f-ac04-7000-8000-000000040000"}','[]','7e8ce87ddfef533dceae0e86c541f9e5f0d20b5c7f837a014125b683020ef1e7','73e474cb21af458cd73efe056706340dee3c559a47fb3a9d1549dd6c80fc7130');
INSERT INTO journal VALUES(7,'019cad8f-ac07-7000-8000-000000070000','pitch','019cad8f-ac06-7000-8000-000000060000','019cad8f-ac06-7000-8000-000000060000','misread the dipstick','Ines','local','web','2026-03-02T10:00:00.000Z',1772445600000,1772445660000,'52717180fc5f28187552369c14417469d0bc61b7770de94db352cdbc6e74eb9d','{"amountL":12,"by":"Ines","fermentId":"019cad8f-ac05-7000-8000-000000050000","happenedAt":"2026-03-02T10:00:00.000Z","kind":"pitch","lotId":"019cad8f-ac04-7000-8000-000000040000","reason":"misread the dipstick","supersedes":"019cad8f-ac06-7000-8000-000000060000"}','[]','73e474cb21af458cd73efe056706340dee3c559a47fb3a9d1549dd6c80fc7130','b3d279e10bcca3dcf28f39827680692f9fc74eedb7ad0e09ada057813d7e5319');
INSERT INTO journal VALUES(8,'019cad8f-ac08-7000-8000-000000080000','reading','019cad8f-ac08-7000-8000-000000080000',NULL,NULL,'Tom','local','web','2026-03-03T04:00:00.000Z',1772510400000,1772510460000,'28214205a5688652057fbd861f4a1e93de72c6bdee6bf381e62d9430e2f7f7c1','{"by":"Tom","fermentId":"019cad8f-ac05-7000-8000-000000050000","gravitySg":1.031,"happenedAt":"2026-03-03T04:00:00.000Z","kind":"reading"}','[]','b3d279e10bcca3dcf28f39827680692f9fc74eedb7ad0e09ada057813d7e5319','5cc28336cf23de76e611c366995c289c52758f2dfe35b7ba17c096a674e17a6b');
INSERT INTO journal VALUES(9,'019cad8f-ac09-7000-8000-000000090000','void','019cad8f-ac08-7000-8000-000000080000','019cad8f-ac08-7000-8000-000000080000','wrong FV','Tom','local','web','2026-03-03T05:00:00.000Z',1772514000000,1772514060000,'3078453a52fbb821473ac9e4c7908a45933c416a29c16fcb36a79587be6831fb','{"by":"Tom","happenedAt":"2026-03-03T05:00:00.000Z","kind":"void","reason":"wrong FV","supersedes":"019cad8f-ac08-7000-8000-000000080000"}','[]','5cc28336cf23de76e611c366995c289c52758f2dfe35b7ba17c096a674e17a6b','d0266445a32bee86df44083e67601ac1c0f473b8d71eb304bc13a8868ca3b258');
INSERT INTO journal VALUES(10,'019cad8f-ac0a-7000-8000-0000000a0000','crop','019cad8f-ac0a-7000-8000-0000000a0000',NULL,NULL,'Ines','local','web','2026-03-04T04:00:00.000Z',1772596800000,1772596860000,'6b5ebe406e277987dea9483f4bc32df42c1d55cbc25ab37c15f276c47053aeac','{"amountKg":10,"by":"Ines","code":"TN-412A","cut":"skim 2","fermentId":"019cad8f-ac05-7000-8000-000000050000","happenedAt":"2026-03-04T04:00:00.000Z","kind":"crop"}','[]','d0266445a32bee86df44083e67601ac1c0f473b8d71eb304bc13a8868ca3b258','84ff97d1d1ddb0eaaf804770056e14d2bd33aee7dd5e20eb0a4132519c98a77c');
INSERT INTO journal VALUES(11,'019cad8f-ac0b-7000-8000-0000000b0000','count','019cad8f-ac0b-7000-8000-0000000b0000',NULL,NULL,'Ines','local','web','2026-03-04T05:00:00.000Z',1772600400000,1772600460000,'ce5a7ccca3f0201702634516e128ef00605a83dcc0a7222a1dc2f2d02dda5a3d','{"basis":"g","by":"Ines","chamber":"Improved Neubauer","depthMm":0.1,"fillings":[{"dilution":1,"dilutionFactor":100,"squares":[38,41,35,37,36]}],"happenedAt":"2026-03-04T05:00:00.000Z","kind":"count","lotId":"019cad8f-ac0a-7000-8000-0000000a0000","pipettingSteps":2,"squareAreaMm2":0.04}','[]','84ff97d1d1ddb0eaaf804770056e14d2bd33aee7dd5e20eb0a4132519c98a77c','332bc1860e66e7485cc0aedc164fed64f49d554cc8d5f7b37a5dfa60199ac755');
INSERT INTO journal VALUES(12,'019cad8f-ac0c-7000-8000-0000000c0000','stain','019cad8f-ac0c-7000-8000-0000000c0000',NULL,NULL,'Ines','local','web','2026-03-04T05:00:00.000Z',1772600400000,1772600460000,'69a79a8d4b5905c00f30de3677addf11ee3a11dd6bde538e7b243a80dda90a55','{"by":"Ines","dead":20,"happenedAt":"2026-03-04T05:00:00.000Z","kind":"stain","live":180,"lotId":"019cad8f-ac0a-7000-8000-0000000a0000","stain":"methylene blue"}','[]','332bc1860e66e7485cc0aedc164fed64f49d554cc8d5f7b37a5dfa60199ac755','4d09f7165c369418e0859b1421f3a82f23866a468e45af07b71bc1c79ab4d0e7');
INSERT INTO journal VALUES(13,'019cad8f-ac0d-7000-8000-0000000d0000','microCheck','019cad8f-ac0d-7000-8000-0000000d0000',NULL,NULL,'Ines','local','web','2026-03-04T06:00:00.000Z',1772604000000,1772604060000,'191d3b91154cca74bf66f3e10be366807a626ea9e14d478d17f564c71280ae2f','{"by":"Ines","dueAt":"2026-03-06T06:00:00.000Z","happenedAt":"2026-03-04T06:00:00.000Z","kind":"microCheck","looksFor":"wild yeast","lotId":"019cad8f-ac0a-7000-8000-0000000a0000","medium":"WLD"}','[]','4d09f7165c369418e0859b1421f3a82f23866a468e45af07b71bc1c79ab4d0e7','b9f526854552dafa4063a59ace48cf85843d0a247f151c71a2a481f125a810c1');
INSERT INTO journal VALUES(14,'019cad8f-ac0e-7000-8000-0000000e0000','hold','019cad8f-ac0e-7000-8000-0000000e0000',NULL,NULL,'Ines','local','web','2026-03-04T07:00:00.000Z',1772607600000,1772607660000,'d471f78aaa930012bc6e3dde100eda394700d4e865ff4dd01d970dc135d3b442','{"by":"Ines","happenedAt":"2026-03-04T07:00:00.000Z","kind":"hold","lotId":"019cad8f-ac0a-7000-8000-0000000a0000","why":"plate pending"}','[]','b9f526854552dafa4063a59ace48cf85843d0a247f151c71a2a481f125a810c1','776f799fb08a80d780be43cfaeac819bb2ed049f155b34ff4ce648855bdd12c9');
INSERT INTO journal VALUES(15,'019cad8f-ac0f-7000-8000-0000000f0000','storeReading','019cad8f-ac0f-7000-8000-0000000f0000',NULL,NULL,'Ines','local','web','2026-03-04T08:00:00.000Z',1772611200000,1772611260000,'2d148f5f30c6116af4c85dff10d10a101dddcd1a720b717e6ba605c4e91d666d','{"by":"Ines","happenedAt":"2026-03-04T08:00:00.000Z","kind":"storeReading","lotId":"019cad8f-ac0a-7000-8000-0000000a0000","tempC":3}','[]','776f799fb08a80d780be43cfaeac819bb2ed049f155b34ff4ce648855bdd12c9','c58401d7a6aef148bf7534a5b52990b89073da125199aa4734079f4353cc6ce9');
INSERT INTO journal VALUES(16,'019cad8f-ac10-7000-8000-000000100000','chill','019cad8f-ac10-7000-8000-000000100000',NULL,NULL,'Ines','local','web','2026-03-05T06:00:00.000Z',1772690400000,1772690460000,'a0b92f3b51f6784a158f85e87d5d7c2ede7f803844fc8d44211f1867cd3d1679','{"by":"Ines","fermentId":"019cad8f-ac05-7000-8000-000000050000","happenedAt":"2026-03-05T06:00:00.000Z","kind":"chill","toTempC":8}','[]','c58401d7a6aef148bf7534a5b52990b89073da125199aa4734079f4353cc6ce9','17428abb843ebbbe93369739a6a3fcd00370948db3acc1c5af981693a41bab1a');
INSERT INTO journal VALUES(17,'019cad8f-ac11-7000-8000-000000110000','rack','019cad8f-ac11-7000-8000-000000110000',NULL,NULL,'Ines','local','web','2026-03-06T08:00:00.000Z',1772784000000,1772784060000,'1e47406bc9d774e0ddab8cbcafabb6d429993591d44054f7c7eb0b601144bc38','{"batches":["412/1","412/2"],"by":"Ines","fermentId":"019cad8f-ac05-7000-8000-000000050000","gravitySg":1.01,"happenedAt":"2026-03-06T08:00:00.000Z","kind":"rack"}','[]','17428abb843ebbbe93369739a6a3fcd00370948db3acc1c5af981693a41bab1a','f899d551b5a889df9e43998c2e66b91b3d1df0f425f0c4741428e4b3d40eec91');
CREATE TABLE brewery (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL,
  first_generation INTEGER NOT NULL CHECK (first_generation IN (0, 1)),
  only_one INTEGER NOT NULL UNIQUE DEFAULT 1 CHECK (only_one = 1)
) STRICT;
INSERT INTO brewery VALUES('019cad8f-ac01-7000-8000-000000010000','019cad8f-ac01-7000-8000-000000010000',1,1772438400000,'Saltpan',0,1);
CREATE TABLE strain (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL,
  code TEXT NOT NULL UNIQUE,
  crops TEXT NOT NULL CHECK (crops IN ('top', 'bottom'))
) STRICT;
INSERT INTO strain VALUES('019cad8f-ac02-7000-8000-000000020000','019cad8f-ac02-7000-8000-000000020000',2,1772438400000,'Tern','TN','top');
CREATE TABLE vessel (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL UNIQUE,
  capacity_l REAL CHECK (capacity_l > 0)
) STRICT;
INSERT INTO vessel VALUES('019cad8f-ac03-7000-8000-000000030000','019cad8f-ac03-7000-8000-000000030000',3,1772438400000,'FV1',NULL);
CREATE TABLE ferment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  gyle TEXT NOT NULL UNIQUE,
  beer TEXT NOT NULL,
  vessel_id TEXT NOT NULL REFERENCES vessel (id),
  strain_id TEXT NOT NULL REFERENCES strain (id),
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1 AND original_gravity_sg <= 1.2),
  pitched_ms INTEGER,
  chilled_ms INTEGER,
  racked_ms INTEGER
) STRICT;
INSERT INTO ferment VALUES('019cad8f-ac05-7000-8000-000000050000','019cad8f-ac05-7000-8000-000000050000',5,1772442000000,'412','Headland Bitter','019cad8f-ac03-7000-8000-000000030000','019cad8f-ac02-7000-8000-000000020000',1636.5899999999999181,1.0400000000000000355,1772445600000,1772690400000,1772784000000);
CREATE TABLE lot (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('freshCulture', 'crop', 'blend')),
  code TEXT NOT NULL UNIQUE,
  strain_id TEXT NOT NULL REFERENCES strain (id),
  ferment_id TEXT REFERENCES ferment (id),
  base_generation INTEGER CHECK (base_generation >= 0),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  generation INTEGER NOT NULL CHECK (generation >= 0),
  times_pitched INTEGER NOT NULL CHECK (times_pitched >= 0),
  line_id TEXT NOT NULL REFERENCES lot (id),
  left_l REAL,
  left_kg REAL,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL)),
  CHECK ((kind = 'crop') = (ferment_id IS NOT NULL)),
  CHECK ((kind = 'freshCulture') = (base_generation IS NOT NULL)),
  CHECK ((amount_l IS NULL) = (left_l IS NULL) AND (amount_kg IS NULL) = (left_kg IS NULL))
) STRICT;
INSERT INTO lot VALUES('019cad8f-ac04-7000-8000-000000040000','019cad8f-ac04-7000-8000-000000040000',4,1772438400000,'freshCulture','TN-F1','019cad8f-ac02-7000-8000-000000020000',NULL,0,20.0,NULL,0,0,'019cad8f-ac04-7000-8000-000000040000',8.0,NULL);
INSERT INTO lot VALUES('019cad8f-ac0a-7000-8000-0000000a0000','019cad8f-ac0a-7000-8000-0000000a0000',10,1772596800000,'crop','TN-412A','019cad8f-ac02-7000-8000-000000020000','019cad8f-ac05-7000-8000-000000050000',NULL,NULL,10.0,1,1,'019cad8f-ac04-7000-8000-000000040000',NULL,10.0);
CREATE TABLE lot_parent (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  parent_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  PRIMARY KEY (lot_id, parent_id),
  CHECK (lot_id <> parent_id),
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT, WITHOUT ROWID;
CREATE TABLE pitch (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL REFERENCES ferment (id),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  expected_viable_cells REAL CHECK (expected_viable_cells >= 0),
  override TEXT,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT;
INSERT INTO pitch VALUES('019cad8f-ac06-7000-8000-000000060000','019cad8f-ac07-7000-8000-000000070000',7,1772445600000,'019cad8f-ac05-7000-8000-000000050000','019cad8f-ac04-7000-8000-000000040000',12.0,NULL,NULL,NULL);
CREATE TABLE reading (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL REFERENCES ferment (id),
  gravity_sg REAL CHECK (gravity_sg BETWEEN 0.98 AND 1.2),
  temp_c REAL,
  ph REAL,
  cells_per_ml REAL CHECK (cells_per_ml >= 0)
) STRICT;
CREATE TABLE chill (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL UNIQUE REFERENCES ferment (id)
) STRICT;
INSERT INTO chill VALUES('019cad8f-ac10-7000-8000-000000100000','019cad8f-ac10-7000-8000-000000100000',16,1772690400000,'019cad8f-ac05-7000-8000-000000050000');
CREATE TABLE rack (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL UNIQUE REFERENCES ferment (id),
  gravity_sg REAL CHECK (gravity_sg BETWEEN 0.98 AND 1.2),
  batches TEXT NOT NULL CHECK (json_valid(batches))
) STRICT;
INSERT INTO rack VALUES('019cad8f-ac11-7000-8000-000000110000','019cad8f-ac11-7000-8000-000000110000',17,1772784000000,'019cad8f-ac05-7000-8000-000000050000',1.0100000000000000088,'["412/1","412/2"]');
CREATE TABLE store_reading (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  temp_c REAL NOT NULL
) STRICT;
INSERT INTO store_reading VALUES('019cad8f-ac0f-7000-8000-0000000f0000','019cad8f-ac0f-7000-8000-0000000f0000',15,1772611200000,'019cad8f-ac0a-7000-8000-0000000a0000',3.0);
CREATE TABLE cell_count (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  basis TEXT NOT NULL CHECK (basis IN ('mL', 'g'))
) STRICT;
INSERT INTO cell_count VALUES('019cad8f-ac0b-7000-8000-0000000b0000','019cad8f-ac0b-7000-8000-0000000b0000',11,1772600400000,'019cad8f-ac0a-7000-8000-0000000a0000','g');
CREATE TABLE stain (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  stain TEXT NOT NULL,
  live INTEGER NOT NULL CHECK (live >= 0),
  dead INTEGER NOT NULL CHECK (dead >= 0),
  CHECK (live + dead > 0)
) STRICT;
INSERT INTO stain VALUES('019cad8f-ac0c-7000-8000-0000000c0000','019cad8f-ac0c-7000-8000-0000000c0000',12,1772600400000,'019cad8f-ac0a-7000-8000-0000000a0000','methylene blue',180,20);
CREATE TABLE micro_check (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  medium TEXT NOT NULL,
  due_ms INTEGER NOT NULL
) STRICT;
INSERT INTO micro_check VALUES('019cad8f-ac0d-7000-8000-0000000d0000','019cad8f-ac0d-7000-8000-0000000d0000',13,1772604000000,'019cad8f-ac0a-7000-8000-0000000a0000','WLD',1772776800000);
CREATE TABLE micro_result (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  check_id TEXT NOT NULL UNIQUE REFERENCES micro_check (id),
  outcome TEXT NOT NULL CHECK (outcome IN ('clear', 'found', 'discard')),
  colonies INTEGER CHECK (colonies >= 0)
) STRICT;
CREATE TABLE treatment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  treatment TEXT NOT NULL,
  added_l REAL CHECK (added_l >= 0)
) STRICT;
CREATE TABLE discard (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  why TEXT NOT NULL,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT;
CREATE TABLE hold (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  why TEXT NOT NULL
) STRICT;
INSERT INTO hold VALUES('019cad8f-ac0e-7000-8000-0000000e0000','019cad8f-ac0e-7000-8000-0000000e0000',14,1772607600000,'019cad8f-ac0a-7000-8000-0000000a0000','plate pending');
CREATE TABLE release (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  why TEXT NOT NULL
) STRICT;
CREATE TABLE planned_brew (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  beer TEXT NOT NULL,
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1),
  strain_id TEXT NOT NULL REFERENCES strain (id),
  vessel_id TEXT REFERENCES vessel (id)
) STRICT;
DELETE FROM sqlite_sequence;
INSERT INTO sqlite_sequence VALUES('journal',17);
CREATE INDEX journal_record ON journal (record_id, seq);
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
CREATE TRIGGER journal_no_replace BEFORE INSERT ON journal
WHEN EXISTS (
  SELECT 1 FROM journal
  WHERE id = NEW.id OR seq = NEW.seq OR hash = NEW.hash OR prev_hash = NEW.prev_hash
    OR supersedes = NEW.supersedes
)
BEGIN SELECT RAISE(ABORT, 'the journal already holds this entry'); END;
CREATE INDEX journal_lot ON journal (json_extract(body, '$.lotId'), seq);
CREATE INDEX journal_ferment ON journal (json_extract(body, '$.fermentId'), seq);
CREATE INDEX lot_by_ferment_id ON lot (ferment_id);
CREATE INDEX lot_by_line_id ON lot (line_id);
CREATE INDEX pitch_by_ferment_id ON pitch (ferment_id);
CREATE INDEX pitch_by_lot_id ON pitch (lot_id);
CREATE INDEX reading_by_ferment_id_happened_ms ON reading (ferment_id, happened_ms);
CREATE INDEX store_reading_by_lot_id_happened_ms ON store_reading (lot_id, happened_ms);
CREATE INDEX cell_count_by_lot_id_happened_ms ON cell_count (lot_id, happened_ms);
CREATE INDEX stain_by_lot_id_happened_ms ON stain (lot_id, happened_ms);
CREATE INDEX micro_check_by_lot_id ON micro_check (lot_id);
CREATE INDEX treatment_by_lot_id ON treatment (lot_id);
CREATE INDEX discard_by_lot_id ON discard (lot_id);
CREATE INDEX hold_by_lot_id ON hold (lot_id);
CREATE INDEX release_by_lot_id ON release (lot_id);
CREATE INDEX planned_brew_by_on_day ON planned_brew (on_day);
CREATE INDEX lot_parent_by_parent_id ON lot_parent (parent_id);
CREATE INDEX ferment_by_strain_id_seq ON ferment (strain_id, seq);
CREATE INDEX lot_in_store ON lot (happened_ms) WHERE left_l > 0 OR left_kg > 0;
CREATE INDEX ferment_running ON ferment (happened_ms) WHERE racked_ms IS NULL;
CREATE VIEW lineage (child, parent, step) AS
  SELECT lot.id, pitch.lot_id, 1 FROM lot JOIN pitch ON pitch.ferment_id = lot.ferment_id
  UNION ALL
  SELECT lot_id, parent_id, 0 FROM lot_parent;
CREATE TRIGGER crop_needs_pitch BEFORE INSERT ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;
CREATE TRIGGER crop_keeps_pitch BEFORE UPDATE OF ferment_id ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;
CREATE TRIGGER pitch_under_crop_stays AFTER DELETE ON pitch
WHEN EXISTS (SELECT 1 FROM lot WHERE ferment_id = OLD.ferment_id)
  AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = OLD.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop was taken from this ferment: it needs its pitch'); END;
CREATE TRIGGER pitch_under_crop_moves AFTER UPDATE OF ferment_id ON pitch
WHEN OLD.ferment_id <> NEW.ferment_id
  AND EXISTS (SELECT 1 FROM lot WHERE ferment_id = OLD.ferment_id)
  AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = OLD.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop was taken from this ferment: it needs its pitch'); END;
CREATE TRIGGER pitch_no_cycle AFTER INSERT ON pitch
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.lot_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id IN (SELECT id FROM lot WHERE ferment_id = NEW.ferment_id)
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;
CREATE TRIGGER pitch_no_cycle_corrected AFTER UPDATE OF lot_id, ferment_id ON pitch
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.lot_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id IN (SELECT id FROM lot WHERE ferment_id = NEW.ferment_id)
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;
CREATE TRIGGER blend_no_cycle AFTER INSERT ON lot_parent
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.parent_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id = NEW.lot_id
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;
CREATE TRIGGER crop_no_cycle_corrected AFTER UPDATE OF ferment_id ON lot
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT parent FROM lineage WHERE child = NEW.id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id = NEW.id
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;
COMMIT;
