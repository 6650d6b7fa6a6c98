/** The built page: its files, and index.html for every address the page itself knows how to show. */
import { existsSync } from 'node:fs';
import { extname, join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { packagePath } from '../app/index.ts';
import { inputError } from '../core/errors.ts';

/** Where the build puts the page. */
export function webFolder(): string {
  return packagePath('dist/web');
}

export async function addPage(app: FastifyInstance, webRoot: string): Promise<void> {
  const built = existsSync(join(webRoot, 'index.html'));
  if (built) {
    await app.register(fastifyStatic, {
      root: webRoot,
      cacheControl: false,
      setHeaders: (reply, path) => {
        // The build puts a hash of the content into the name of every file in assets/.
        const lasting = /[/\\]assets[/\\]/.test(path);
        reply.setHeader('cache-control', lasting ? 'public, max-age=31536000, immutable' : 'no-cache');
      },
    });
  }
  app.setNotFoundHandler((request, reply) => {
    const path = request.url.split('?')[0] ?? '/';
    const isPage = request.method === 'GET' && extname(path) === '';
    if (built && isPage) return reply.sendFile('index.html');
    reply.code(404);
    throw built || !isPage
      ? inputError('unknown', 'address', '', 'a page of this server')
      : inputError('missing', 'page', 'not built yet', 'npm run build to have run');
  });
}
