import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

const root = import.meta.dirname;
const worker = 'serviceWorker.js';

/** Tells the service worker which files make up this version, and names the version by them. */
function shellFiles(): Plugin {
  return {
    name: 'shell-files',
    apply: 'build',
    // After the chunks that held nothing but a stylesheet are gone.
    enforce: 'post',
    generateBundle: (_options, bundle) => {
      const chunk = bundle[worker];
      if (chunk?.type !== 'chunk') throw new Error('The service worker was not built.');
      const built = Object.keys(bundle).filter((file) => file !== worker && file !== 'index.html');
      const copied = readdirSync(join(root, 'public'));
      const files = ['/', ...[...built, ...copied].map((file) => `/${file}`).sort()];
      const version = createHash('sha256').update(files.join() + chunk.code);
      for (const file of ['index.html', ...copied.map((name) => join('public', name))])
        version.update(readFileSync(join(root, file)));
      chunk.code = chunk.code
        .replaceAll('SHELL_FILES', JSON.stringify(files))
        .replaceAll('SHELL_VERSION', JSON.stringify(version.digest('hex').slice(0, 16)));
    },
  };
}

export default defineConfig({
  root,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [shellFiles()],
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    // The first browsers that know light-dark(); older targets would get a bulky stand-in.
    cssTarget: ['chrome123', 'firefox120', 'safari17.5'],
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: {
        index: join(root, 'index.html'),
        serviceWorker: join(root, 'serviceWorker.ts'),
      },
      output: {
        // The worker keeps its name, so that each version replaces the one before.
        entryFileNames: ({ name }) =>
          name === 'serviceWorker' ? worker : 'assets/[name]-[hash].js',
      },
    },
  },
  server: {
    // Only what lies under /api/, not the pages' own /apiClient.ts.
    proxy: { '^/api/': `http://localhost:${process.env.API_PORT ?? '3000'}` },
  },
});
