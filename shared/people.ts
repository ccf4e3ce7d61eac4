import * as z from 'zod/mini';
import { reference, text } from './fields.ts';
import { nameText } from './nameText.ts';
import { type Role, roles, type SiteRole } from './roles.ts';
import type { SiteKey } from './sites/site.ts';

export const leastPasswordLength = 12;
/** The head brewer's password opens everything. */
export const leastHeadPasswordLength = 15;
const mostPasswordLength = 128;

const userNameRule = 'User name is 2 to 32 small letters or digits, with . or - between them';
const userName = z
  .string({ error: userNameRule })
  .check(z.maxLength(32, { error: userNameRule }))
  .check(z.regex(/^[a-z0-9]+([.-][a-z0-9]+)*$/, { error: userNameRule }))
  .check(z.minLength(2, { error: userNameRule }));

const password = (label: string) => text(label, mostPasswordLength);

const code = text('The code', 64);
const name = nameText('Name', 80);
const heldRoles = z
  .array(z.enum(roles, { error: `Role must be one of: ${roles.join(', ')}` }), {
    error: 'Roles must be a list',
  })
  .check(
    z.maxLength(roles.length, { error: 'Each role is given once' }),
    z.refine((held) => new Set(held).size === held.length, { error: 'Each role is given once' }),
  );

/** What a person signs in with. Any name is taken, so that a wrong one is not told from another. */
export const signInRequest = z.strictObject({
  userName: text('User name', 80),
  password: password('Password'),
  /** Stay signed in on this device. */
  keep: z.boolean({ error: 'keep must be true or false' }),
});

export const proofRequest = z.strictObject({ password: password('Password') });

export const firstAccountRequest = z.strictObject({
  code,
  name,
  userName,
  password: password('Password'),
  keep: z.boolean({ error: 'keep must be true or false' }),
});

export const activationRequest = z.strictObject({
  code,
  password: password('Password'),
  keep: z.boolean({ error: 'keep must be true or false' }),
});

export const newPasswordRequest = z.strictObject({
  current: password('Present password'),
  password: password('New password'),
});

/** Each held at one site only, beside those held at every one. */
const siteRoles = z.optional(
  z
    .array(
      z.strictObject({
        siteId: reference('The site'),
        role: z.enum(roles, { error: `Role must be one of: ${roles.join(', ')}` }),
      }),
      { error: 'Roles at sites must be a list' },
    )
    .check(z.maxLength(200, { error: 'At most 200 roles at sites' })),
);
const someRole = <T extends HeldRoles>() =>
  z.refine<T>(({ roles: held, siteRoles: at = [] }) => held.length + at.length > 0, {
    error: 'Give one role at least',
    path: ['roles'],
  });
type HeldRoles = {
  roles: readonly Role[];
  siteRoles?: readonly SiteRole[] | undefined;
};

export const newPersonRequest = z
  .strictObject({ name, userName, roles: heldRoles, siteRoles })
  .check(someRole());

export const personChange = z
  .strictObject({
    name,
    roles: heldRoles,
    siteRoles,
    open: z.boolean({ error: 'open must be true or false' }),
  })
  .check(someRole());

export const newDeviceToken = z.strictObject({
  sensor: nameText('Sensor', 60),
  vesselId: z.optional(reference('The fermenter')),
});

export type SignInRequest = z.infer<typeof signInRequest>;
export type FirstAccountRequest = z.infer<typeof firstAccountRequest>;
export type ActivationRequest = z.infer<typeof activationRequest>;
export type NewPasswordRequest = z.infer<typeof newPasswordRequest>;
export type NewPersonRequest = z.infer<typeof newPersonRequest>;
export type PersonChange = z.infer<typeof personChange>;
export type DeviceTokenRequest = z.infer<typeof newDeviceToken>;

/** Who is signed in, as the pages know it. */
export type Person = {
  id: string;
  userName: string;
  name: string;
  /** Held at every site. */
  roles: readonly Role[];
  siteRoles: readonly SiteRole[];
};

export type SessionState = {
  person: Person | null;
  /** No account was made yet: the set-up code makes the first. */
  isNew: boolean;
  /** On the machine itself, so that staying signed in is the usual thing. */
  isThisComputer: boolean;
  /** Ready accounts, only in the demo. */
  demo: readonly { userName: string; name: string; roles: readonly Role[]; password: string }[];
};

export type PersonView = Person & {
  isOpen: boolean;
  hasPassword: boolean;
  /** Until when a code not yet used is good. */
  codeUntil: string | null;
  lastSeen: string | null;
};

export type SessionView = {
  id: string;
  device: string;
  since: string;
  lastSeen: string;
  until: string;
  isThis: boolean;
};

export type DeviceTokenView = {
  id: string;
  sensor: string;
  vesselId: string | null;
  vessel: string | null;
  /** Of that FV; null for the first site. */
  siteId: SiteKey;
  made: string;
  lastUsed: string | null;
  revoked: string | null;
  /** Until when the token before a renewal is still good. */
  oldUntil: string | null;
};

export type FeedKeyView = { id: string; made: string; lastUsed: string | null };
export type SecurityEventView = {
  seq: number;
  at: string;
  what: string;
  userName: string | null;
  address: string | null;
  detail: string | null;
};
