import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
} from 'playwright-core';

const places = [
  process.env.CHROMIUM_PATH ?? '',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

const args = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** A Chromium that is there, else one installed by the system's package manager; never none. */
export async function launchChromium(): Promise<Browser> {
  return chromium.launch({ executablePath: found() ?? installed(), args });
}

/** What the pages of a context did against the policy of the site, as their browser reports it. */
export async function policyReports(context: BrowserContext): Promise<string[]> {
  const reports: string[] = [];
  context.on('console', (said) => {
    if (/content security policy|trusted/i.test(said.text()))
      reports.push(`${said.page()?.url()}: ${said.text()}`);
  });
  await context.addInitScript(() => {
    addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sample }) => {
      console.error(`Content Security Policy: ${violatedDirective} ${blockedURI} ${sample}`);
    });
  });
  return reports;
}

/** The same with a profile on disk, which outlives the browser as on a phone. */
export async function openProfile(
  folder: string,
  options: BrowserContextOptions,
): Promise<BrowserContext> {
  const executablePath = found() ?? installed();
  return chromium.launchPersistentContext(folder, { ...options, executablePath, args });
}

const found = () => places.find((place) => place !== '' && existsSync(place));

function installed(): string {
  const apt = (...words: string[]) =>
    execFileSync('apt-get', ['-o', 'DPkg::Lock::Timeout=400', ...words], { stdio: 'inherit' });
  try {
    apt('update');
    apt('install', '-y', '--no-install-recommends', 'chromium', 'fonts-dejavu-core');
  } catch (cause) {
    throw new Error(
      'The browser tests need Chromium. Install it, or name it in CHROMIUM_PATH; they are never skipped.',
      { cause },
    );
  }
  const place = found();
  if (place === undefined) throw new Error('Chromium was installed but cannot be found.');
  return place;
}
