import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    // The first browsers that know light-dark(); older targets would get a bulky stand-in.
    cssTarget: ['chrome123', 'firefox120', 'safari17.5'],
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  server: {
    proxy: { '/api': `http://localhost:${process.env.API_PORT ?? '3000'}` },
  },
});
