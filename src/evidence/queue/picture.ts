export * from '../../core/picture.ts';
