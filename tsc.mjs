// The compiler that checks types and writes declarations: four times as quick as the one of the same language that
// `typescript` stays at, because the bundler and the tests of the house need its JavaScript interface. By its place,
// as both call their command `tsc`.
import './node_modules/typescript7/lib/tsc.js';
