// Invented inputs for the browser tests. None of it is, or looks like, anybody's.

// What a scanner sends: one string of digits that a number field would take, one of all kinds of signs with a
// Tab at its end (GS1 General Specifications, element string (8018), a service relation number; the digits
// are made up), one that is short.
export const scans = [
  { name: 'digits and Enter', text: '8018990000000000004217', end: 'Enter' },
  { name: 'all kinds of signs and Tab', text: 'Q7<b>4#x;9/Zw(2)*Kp=55~', end: 'Tab' },
];

export const wideSizes = [
  { width: 1280, height: 800, scale: 1 },
  { width: 768, height: 1024, scale: 1 },
  { width: 1024, height: 768, scale: 2 },
  { width: 1920, height: 1080, scale: 1 },
];

// Taps on the number keys, the same each time, and the digits that are left if every one of them lands.
// Between one and three digits stand there all the while, so that a tap that is lost shows in how many are
// left.
export function taps(count) {
  const remove = 'Delete the last digit';
  const sequence = [],
    digits = [];
  let seed = 12345;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  while (sequence.length < count) {
    const add = digits.length <= 1 || (digits.length < 3 && random() < 0.5);
    if (add) {
      const digit = String(1 + Math.floor(random() * 9));
      digits.push(digit);
      sequence.push(digit);
    } else {
      digits.pop();
      sequence.push(remove);
    }
  }
  return { sequence, left: digits.join('') };
}
