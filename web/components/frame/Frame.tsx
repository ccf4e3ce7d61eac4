import type { ComponentChildren } from 'preact';
import { useLocation } from 'preact-iso/router';
import { setup } from '../../settings.ts';
import { signedIn } from '../../signedIn.ts';
import { chosenSite } from '../../siteChoice.ts';
import { OutboxLine } from '../outbox/OutboxLine.tsx';
import { PersonName } from '../people/PersonName.tsx';
import { Printed } from './Printed.tsx';
import { SiteChoice } from './SiteChoice.tsx';
import { UpkeepNotice } from './UpkeepNotice.tsx';

const overview = [
  { href: '/', label: 'Today' },
  { href: '/yeast', label: 'Yeast' },
  { href: '/lines', label: 'Lines' },
  { href: '/plan', label: 'Plan' },
  { href: '/trace', label: 'Trace' },
  { href: '/setup', label: 'Setup' },
];
const jobs = [
  { href: '/pitch', label: 'Pitch' },
  { href: '/crop', label: 'Crop' },
  { href: '/bench', label: 'Bench' },
  { href: '/ferments', label: 'Ferments' },
];

/** The cover of the book: its name, its tabs, and whoever holds it. */
export function Frame({ children }: { children: ComponentChildren }) {
  const isIn = signedIn.value !== null && signedIn.value !== undefined;
  return (
    <>
      <a class="skip" href="#main">
        Skip to the page
      </a>
      <header class="head">
        <p class="brand">
          <a href="/">Barmbook</a>
          <span class="brand-brewery">{setup.value?.brewery?.name ?? ''}</span>
        </p>
        {isIn && <SiteChoice />}
        {isIn && (
          <>
            <nav class="tabs" aria-label="Overview">
              <Tabs links={overview} />
            </nav>
            <nav class="tabs jobs" aria-label="Jobs">
              <Tabs links={jobs} />
            </nav>
          </>
        )}
        <PersonName />
        <Printed />
      </header>
      <OutboxLine />
      {isIn && <UpkeepNotice />}
      {/* Another site is another page: nothing of the one before stays on it. */}
      <main key={chosenSite.value} id="main" tabIndex={-1}>
        {children}
      </main>
      <footer class="foot">
        <p>Figures are an aid to judgement. Each opens to show how it came about.</p>
      </footer>
    </>
  );
}

function Tabs({ links }: { links: typeof jobs }) {
  const { path } = useLocation();
  const isHere = (href: string) => path === href || (href !== '/' && path.startsWith(`${href}/`));
  return (
    <ul>
      {links.map(({ href, label }) => (
        <li key={href}>
          <a href={href} aria-current={isHere(href) ? 'page' : undefined}>
            {label}
          </a>
        </li>
      ))}
    </ul>
  );
}
