import { ownCorrectionHours, writersOf } from '#shared/permissions.ts';
import { requestLimits } from '#shared/requestLimits.ts';
import type { RouteDoc } from './apiDocument.ts';
import { whoInWords } from './auth/who.ts';
import { problemList } from './problem.ts';

const escapes: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string) => text.replace(/[&<>"]/g, (character) => escapes[character] ?? '');
// The few words of our own documents that are set as code.
const prose = (text: string) => escaped(text).replace(/`([^`]+)`/g, '<code>$1</code>');

/** A page to read the interface by: plain, printable, nothing loaded from elsewhere. */
export function docsPage(routes: readonly RouteDoc[]): string {
  const tags = [...new Set(routes.map((route) => route.tag))];
  return `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>Barmbook: the interface</title>
<meta name="viewport" content="width=device-width"><link rel="stylesheet" href="/api/docs.css"></head>
<body><main><h1>The Barmbook interface</h1>
<p>The same as a document: <a href="/api/openapi.json">openapi.json</a>. Units are in the names. Every refusal is a problem document that names each field.</p>
${tags
  .map((tag) =>
    section(
      tag,
      routes.filter((route) => route.tag === tag),
    ),
  )
  .join('\n')}
<h2 id="writers">Who may write what</h2>
<p>Within ${ownCorrectionHours} hours of an entry its writer may correct it; a correction of what another wrote or of an older entry, striking out, and pitching or mixing in a held lot all the same need the head brewer.</p>
<table><thead><tr><th scope="col">kind</th><th scope="col">roles</th></tr></thead><tbody>
${Object.entries(writersOf)
  .map(([kind, held]) => `<tr><td><code>${kind}</code></td><td>${held.join(', ')}</td></tr>`)
  .join('\n')}
</tbody></table>
<h2 id="limits">How often</h2>
<p>Beyond this a call is answered with 429 and <code>Retry-After</code>, and does nothing.</p>
<table><thead><tr><th scope="col">what</th><th scope="col">a minute</th><th scope="col">at once</th></tr></thead><tbody>
${Object.values(requestLimits)
  .map(
    ({ words, perMinute, atOnce }) =>
      `<tr><td>${escaped(words)}</td><td>${perMinute}</td><td>${atOnce}</td></tr>`,
  )
  .join('\n')}
</tbody></table>
<h2 id="problems">Problems</h2>
<table><thead><tr><th scope="col">code</th><th scope="col">status</th><th scope="col">meaning</th></tr></thead><tbody>
${problemList.map(({ code, status, title }) => `<tr id="${code}"><td><code>${code}</code></td><td>${status}</td><td>${escaped(title)}</td></tr>`).join('\n')}
</tbody></table></main></body></html>`;
}

function section(tag: string, routes: readonly RouteDoc[]): string {
  return `<h2>${escaped(tag)}</h2>\n${routes.map(entry).join('\n')}`;
}

function entry(route: RouteDoc): string {
  const request =
    route.request === undefined
      ? ''
      : `<details><summary>Body</summary><pre tabindex="0">${escaped(JSON.stringify(route.request, null, 1))}</pre></details>`;
  const example =
    route.example === undefined
      ? ''
      : `<details open><summary>Example</summary><pre tabindex="0">${escaped(JSON.stringify(route.example, null, 2))}</pre></details>`;
  const answers = Object.entries(route.answers)
    .map(([status, answer]) => `<li><b>${status}</b> ${prose(answer.description)}</li>`)
    .join('');
  const description = route.description === undefined ? '' : `<p>${prose(route.description)}</p>`;
  return `<section><h3><code>${route.method.toUpperCase()} ${escaped(route.path)}</code></h3>
<p>${prose(route.summary)}</p><p class="who">${escaped(whoInWords(route.who))}</p>${description}${example}${request}<ul>${answers}</ul></section>`;
}

export const docsStyle = `:root{color-scheme:light dark}
body{font:18px/1.5 system-ui,sans-serif;margin:0;background:light-dark(#fbf8f1,#17191c);color:light-dark(#1d1b16,#ece6d8)}
main{max-width:50rem;margin:auto;padding:1.5rem}
h1,h2{font-family:ui-serif,Georgia,serif}h2{border-bottom:3px double currentColor}
section{border-bottom:1px solid light-dark(#b9b09c,#55524b);padding-block:.5rem}
pre{overflow:auto;max-height:24rem;font-size:15px}a{color:inherit}
td,th{text-align:left;padding:.2rem 1rem .2rem 0}`;
