// The order matters: most browsers also name the ones they descend from.
const browsers = [
  [/Edg\//, 'Edge'],
  [/Firefox\//, 'Firefox'],
  [/Chrome\//, 'Chrome'],
  [/Safari\//, 'Safari'],
] as const;
const systems = [
  [/\bAndroid\b/, 'Android'],
  [/\b(iPhone|iPad)\b/, 'iOS'],
  [/\bWindows\b/, 'Windows'],
  [/\bMac OS X\b/, 'macOS'],
  [/\bLinux\b/, 'Linux'],
] as const;

/** What signed in, in a few words for the list of sessions: "Firefox on Windows". */
export function deviceInWords(userAgent: string | undefined): string {
  const agent = userAgent ?? '';
  const named = (known: readonly (readonly [RegExp, string])[]) =>
    known.find(([pattern]) => pattern.test(agent))?.[1];
  const browser = named(browsers) ?? 'A program';
  const system = named(systems);
  return system === undefined ? browser : `${browser} on ${system}`;
}
