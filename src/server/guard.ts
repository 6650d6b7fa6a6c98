/**
 * Who may talk to this server: pages it served itself and programs on this computer. A page from elsewhere can point
 * its own host name at 127.0.0.1 (DNS rebinding) or post across origins; both are refused here, and the content policy
 * lets our own pages load nothing from outside.
 */
import type { FastifyInstance } from 'fastify';
import { inputError } from '../core/errors.ts';

export const loopbackNames = ['127.0.0.1', 'localhost', '::1'] as const;

const headers = {
  'content-security-policy': [
    "default-src 'self'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data:",
    "worker-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
};

export function addGuard(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(headers);
    const { host, origin } = request.headers;
    if (!isLoopback(host)) {
      reply.code(403);
      throw inputError(
        'invalid',
        'Host header',
        `"${host ?? ''}"`,
        `${loopbackNames.join(', ')} on this computer`,
      );
    }
    const site = request.headers['sec-fetch-site'];
    const writes = !['GET', 'HEAD', 'OPTIONS'].includes(request.method);
    const foreign =
      (origin !== undefined && origin !== `http://${host}`) || site === 'cross-site' || site === 'same-site';
    if (writes && foreign) {
      reply.code(403);
      throw inputError(
        'invalid',
        'Origin header',
        `"${origin ?? site}"`,
        `http://${host}, the page this server serves`,
      );
    }
  });
}

function isLoopback(host: string | undefined): boolean {
  const match = /^(\[[0-9a-f:]+\]|[^:[\]]+)(?::\d{1,5})?$/i.exec(host ?? '');
  const name = match?.[1]?.replace(/^\[|\]$/g, '').toLowerCase();
  return loopbackNames.some((allowed) => allowed === name);
}
