import { type Cursor, capital, locusOf, peek } from './cursor.js';
import { badArithmetic, badParameter, badValue } from './diagnostics.js';
import { readNumber } from './read-number.js';

const DEGREE = Math.PI / 180;

/** The functions of one argument (NISTIR 6556 3.3.2.4, Table 6), angles in degrees; ATAN has two and is apart. */
const FUNCTIONS: Readonly<Record<string, (v: number) => number>> = {
  ABS: Math.abs,
  ACOS: (v) => Math.acos(v) / DEGREE,
  ASIN: (v) => Math.asin(v) / DEGREE,
  COS: (v) => Math.cos(v * DEGREE),
  EXP: Math.exp,
  FIX: Math.floor,
  FUP: Math.ceil,
  LN: (v) => (v > 0 ? Math.log(v) : Number.NaN),
  // Halves go away from zero, as in the report's interpreter.
  ROUND: (v) => Math.sign(v) * Math.floor(Math.abs(v) + 0.5),
  SIN: (v) => Math.sin(v * DEGREE),
  SQRT: Math.sqrt,
  TAN: (v) => Math.tan(v * DEGREE),
};

/** A value: number, parameter, function or expression (N3, N4, N5). NaN when `c.fault` has been set. */
export function readValue(c: Cursor, what: string): number {
  const code = peek(c);
  if ((code >= 48 && code <= 57) || code === 45 || code === 43 || code === 46) return readNumber(c);
  if (code === 91) return readBrackets(c, what);
  if (code === 35) return readParameter(c);
  if (capital(code) >= 0) return readFunction(c, what);
  const found =
    code < 0 ? 'a value is missing at the end of the line' : `${JSON.stringify(c.text[c.at])} is no value`;
  c.fault ??= badValue(locusOf(c), what, found);
  return Number.NaN;
}

/** The index after a `#`, which must be a whole number from 1 to 5399 (N4). */
export function readParameterIndex(c: Cursor): number {
  c.at++;
  const index = readValue(c, 'A parameter');
  if (c.fault) return 0;
  const whole = Math.round(index);
  if (Math.abs(index - whole) > 0.0001 || whole < 1 || whole > 5399) {
    c.fault = badParameter(locusOf(c), index);
    return 0;
  }
  return whole;
}

const readParameter = (c: Cursor): number => {
  const index = readParameterIndex(c);
  return c.fault ? Number.NaN : c.parameters[index]!;
};

function readBrackets(c: Cursor, what: string): number {
  if (peek(c) !== 91) {
    c.fault ??= badValue(locusOf(c), what, 'a [ is missing');
    return Number.NaN;
  }
  c.at++;
  const value = readOperations(c, 1, what);
  if (c.fault) return Number.NaN;
  if (peek(c) !== 93) {
    c.fault = badValue(locusOf(c), what, 'a ] is missing');
    return Number.NaN;
  }
  c.at++;
  return value;
}

function readFunction(c: Cursor, what: string): number {
  let name = '';
  for (let code = capital(peek(c)); code >= 0; code = capital(peek(c))) {
    name += String.fromCharCode(code);
    c.at++;
  }
  const f = Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name] : undefined;
  if (!f && name !== 'ATAN') {
    c.fault ??= badValue(locusOf(c), what, `there is no function ${name}`);
    return Number.NaN;
  }
  const first = readBrackets(c, what);
  if (c.fault) return Number.NaN;
  let value: number;
  if (f) value = f(first);
  else {
    if (peek(c) !== 47) {
      c.fault = badValue(locusOf(c), what, 'ATAN needs a second argument, as in ATAN[1]/[2]');
      return Number.NaN;
    }
    c.at++;
    value = Math.atan2(first, readBrackets(c, what)) / DEGREE;
    if (c.fault) return Number.NaN;
  }
  if (!Number.isFinite(value)) c.fault = badArithmetic(locusOf(c), `${name} has no value there`);
  return value;
}

type Operator = '**' | '*' | '/' | 'MOD' | '+' | '-' | 'OR' | 'XOR' | 'AND';

/** Binding strength (N5): powers first, then products, then the rest; left to right inside a level. */
const strength = (o: Operator): number => (o === '**' ? 3 : o === '*' || o === '/' || o === 'MOD' ? 2 : 1);

/** The operator at the cursor, passed; null when there is none. Blanks may stand inside its name. */
function readOperator(c: Cursor): Operator | null {
  const code = peek(c);
  const back = c.at;
  if (code === 42) {
    c.at++;
    if (peek(c) !== 42) return '*';
    c.at++;
    return '**';
  }
  if (code === 47 || code === 43 || code === 45) {
    c.at++;
    return code === 47 ? '/' : code === 43 ? '+' : '-';
  }
  for (const name of ['OR', 'XOR', 'AND', 'MOD'] as const) {
    let n = 0;
    while (n < name.length && capital(peek(c)) === name.charCodeAt(n)) {
      c.at++;
      n++;
    }
    if (n === name.length) return name;
    c.at = back;
  }
  return null;
}

/** Operations at least as strong as `least`, by precedence climbing. */
function readOperations(c: Cursor, least: number, what: string): number {
  let left = readValue(c, what);
  while (!c.fault) {
    const back = c.at;
    const operator = readOperator(c);
    if (operator === null) return left;
    if (strength(operator) < least) {
      c.at = back;
      return left;
    }
    const right = readOperations(c, strength(operator) + 1, what);
    if (c.fault) break;
    const value = operate(operator, left, right);
    if (!Number.isFinite(value)) {
      c.fault = badArithmetic(locusOf(c), `${left} ${operator} ${right} has no value`);
      break;
    }
    left = value;
  }
  return Number.NaN;
}

function operate(operator: Operator, a: number, b: number): number {
  switch (operator) {
    case '**':
      return a ** b;
    case '*':
      return a * b;
    case '/':
      return a / b;
    case 'MOD': {
      const rest = a % b;
      return rest < 0 ? rest + Math.abs(b) : rest;
    }
    case '+':
      return a + b;
    case '-':
      return a - b;
    case 'OR':
      return a !== 0 || b !== 0 ? 1 : 0;
    case 'AND':
      return a !== 0 && b !== 0 ? 1 : 0;
    case 'XOR':
      return (a !== 0) !== (b !== 0) ? 1 : 0;
  }
}
