import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** The page is one folder of files that our own server hands out; nothing in it points outside. */
export default defineConfig({
  root: 'src/web',
  base: '/',
  plugins: [react()],
  worker: { format: 'es' },
  build: { outDir: '../../dist/web', emptyOutDir: true, chunkSizeWarningLimit: 900, assetsInlineLimit: 0 },
  server: { host: '127.0.0.1', proxy: { '/api': 'http://127.0.0.1:4747' } },
});
