import type {
  ActivationRequest,
  DeviceTokenRequest,
  FirstAccountRequest,
  NewPasswordRequest,
  NewPersonRequest,
  PersonChange,
  SessionState,
  SignInRequest,
} from '#shared/people.ts';
import { asked, read, server, until } from './server.ts';

export const fetchSession = (signal?: AbortSignal): Promise<SessionState> =>
  read(server.session.$get({}, until(signal)));
export const fetchPassphrase = async () => (await read(server.passphrase.$get())).passphrase;
export const signIn = (json: SignInRequest) => asked(server.session.$post({ json }));
export const signOut = () => asked(server.session.$delete());
export const giveProof = (password: string) =>
  asked(server.session.proofs.$post({ json: { password } }));
export const makeFirstAccount = (json: FirstAccountRequest) =>
  asked(server['first-account'].$post({ json }));
export const activate = (json: ActivationRequest) => asked(server.activations.$post({ json }));

export const changePassword = (json: NewPasswordRequest) =>
  asked(server.account.password.$put({ json }));
export const fetchOwnSessions = async (signal?: AbortSignal) =>
  (await read(server.account.sessions.$get({}, until(signal)))).items;
export const endOwnSession = (id: string) =>
  asked(server.account.sessions[':id'].$delete({ param: { id } }));
export const fetchFeedKeys = async (signal?: AbortSignal) =>
  (await read(server.account['feed-keys'].$get({}, until(signal)))).items;
export const makeFeedKey = () => asked(server.account['feed-keys'].$post());
export const revokeFeedKey = (id: string) =>
  asked(server.account['feed-keys'][':id'].$delete({ param: { id } }));

export const fetchPeople = async (signal?: AbortSignal) =>
  (await read(server.people.$get({}, until(signal)))).items;
export const makePerson = (json: NewPersonRequest) => asked(server.people.$post({ json }));
export const changePerson = (id: string, json: PersonChange) =>
  asked(server.people[':id'].$put({ param: { id }, json }));
export const issueCode = (id: string) => asked(server.people[':id'].codes.$post({ param: { id } }));
export const fetchSessionsOf = async (id: string, signal?: AbortSignal) =>
  (await read(server.people[':id'].sessions.$get({ param: { id } }, until(signal)))).items;
export const endSessionOf = (id: string, session: string) =>
  asked(server.people[':id'].sessions[':session'].$delete({ param: { id, session } }));
export const fetchDeviceTokens = async (signal?: AbortSignal) =>
  (await read(server['device-tokens'].$get({}, until(signal)))).items;
export const makeDeviceToken = (json: DeviceTokenRequest) =>
  asked(server['device-tokens'].$post({ json }));
export const renewDeviceToken = (id: string) =>
  asked(server['device-tokens'][':id'].renewals.$post({ param: { id } }));
export const revokeDeviceToken = (id: string) =>
  asked(server['device-tokens'][':id'].$delete({ param: { id } }));
export const fetchSecurityEvents = async (signal?: AbortSignal) =>
  (await read(server['security-events'].$get({}, until(signal)))).items;
