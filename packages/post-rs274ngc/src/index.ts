export * from './rs274ngc.js';
