/** Every refusal leaves as JSON `{error}` with one line for each fault; nothing of the inside shows. */
import type { FastifyError, FastifyInstance } from 'fastify';
import { InputError, inputError } from '../core/errors.ts';

export function addErrors(app: FastifyInstance): void {
  app.setErrorHandler<FastifyError>((error, _request, reply) => {
    const refusal = error instanceof InputError ? error : knownRefusal(error);
    if (!refusal) {
      const status = error.statusCode !== undefined && error.statusCode < 500 ? error.statusCode : 500;
      if (status === 500) process.stderr.write(`steadycone: ${error.stack ?? error.message}\n`);
      const text =
        status === 500 ? 'the server failed on this request; its terminal says more' : error.message;
      return reply.code(status).type('application/json').send({ error: text });
    }
    const status = reply.statusCode >= 400 ? reply.statusCode : statusOf(refusal, error);
    return reply.code(status).type('application/json').send({ error: refusal.message });
  });
}

function statusOf(refusal: InputError, error: FastifyError): number {
  if (refusal !== (error as unknown)) return error.statusCode ?? 400;
  const [fault] = refusal.faults;
  if (fault?.kind === 'unknown' && (fault.where === 'bench item' || fault.where === 'queue')) return 404;
  // The request was sound; the bench cannot be written now.
  return fault?.where === 'bench store' || fault?.where === 'bench folder' ? 503 : 400;
}

function knownRefusal(error: FastifyError): InputError | undefined {
  switch (error.code) {
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return inputError(
        'invalid',
        'content type',
        '',
        'application/json, or application/octet-stream for a run',
      );
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return inputError('out of range', 'request body', 'more than 1 MB', 'at most 1 MB');
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
      return inputError('missing', 'request body', '', 'a JSON document');
    case 'FST_ERR_CTP_INVALID_JSON_BODY':
      return inputError('invalid', 'request body', 'not JSON', 'a JSON document');
    default:
      return error instanceof SyntaxError
        ? inputError('invalid', 'request body', 'not JSON', 'a JSON document')
        : undefined;
  }
}
