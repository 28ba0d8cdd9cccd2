export * from './linear.js';
