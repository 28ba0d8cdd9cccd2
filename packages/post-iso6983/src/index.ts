export * from './iso6983.js';
