/** The one script the pages name at run time; the header of the server lets this policy be made. */
const address = '/serviceWorker.js';
const policyName = 'barmbook-worker';

type Policy = { createScriptURL: (text: string) => string };
type Makes = { createPolicy: (name: string, rules: Policy) => Policy };

/**
 * Where the service worker is, as a browser that trusts no bare text wants it; other browsers take the
 * text itself. The policy is made as the pages begin, since it can be made only once.
 */
export const workerAddress = trusted(Object(globalThis));

function trusted({ trustedTypes }: { trustedTypes?: Makes }): string {
  if (trustedTypes === undefined) return address;
  // No text that comes in gets through: whatever is asked for, it is this one script.
  const rules = { createScriptURL: () => address };
  return trustedTypes.createPolicy(policyName, rules).createScriptURL(address);
}
