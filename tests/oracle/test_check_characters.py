#!/usr/bin/python3
"""The check of donation numbers against two reference libraries: python3-stdnum and npm's cdigit.

Both compute ISO/IEC 7064 MOD 37-2. cdigit drops what is not in its alphabet without a word, so only characters of the
alphabet are ever given to it. Issuer numbers in the examples are published ones; the random ones are anything.
"""

import json
import random
import subprocess
import unittest

from stdnum.iso7064 import mod_37_2

from command import ROOT, hangtime

RANDOM = 100_000
CAPITALS = "ABCDEFGHIJKLMNPQRSTUVWXYZ"  # a number's first five characters hold no O
DIGITS = "0123456789"
ALPHABET = DIGITS + "ABCDEFGHIJKLMNOPQRSTUVWXYZ*"

# (number, its published check character, where)
PUBLISHED = [
    ("G123417654321", "A", "ICCBBA ST-001 A.1"),
    ("G123498654321", "H", "JPAC Red Book Annex 2"),
    ("A999921123456", "3", "ST-001 figure 2"),
    ("W000009123456", "G", "ST-001 7.4.1"),
    ("A999818123456", "N", "ST-001 7.5.1.1"),
    ("A999820123456", "E", "ST-001 figure 20"),
    ("A999917123456", "9", "ST-001 figure 21"),
    ("A999917123654", "Y", "ST-001 figure 21"),
    ("A999915000001", "M", "ST-001 figure 23"),
]

BY_CDIGIT = """
import {mod37_2} from "cdigit";
let text = '';
for await (const chunk of process.stdin) text += chunk;
process.stdout.write(text.trim().split('\\n').map(n => mod37_2.compute(n)).join('\\n'));
"""


def numbers():
    source = random.Random(37_2)
    for _ in range(RANDOM):
        yield "".join([source.choice(CAPITALS + DIGITS[1:]), *source.choices(CAPITALS + DIGITS, k=2),
                       *source.choices(DIGITS, k=10)])


def scanned(lines):
    status, out, err = hangtime("scan", "-", "--as", "json", stdin="\n".join(lines) + "\n")
    assert err == "", err
    return status, json.loads(out)["scans"]


def by_cdigit(wanted):
    done = subprocess.run(["node", "--input-type=module", "-e", BY_CDIGIT], input="\n".join(wanted), text=True,
                          capture_output=True, timeout=120, check=True, cwd=ROOT / "tests/browser")
    return done.stdout.split("\n")


class CheckCharacters(unittest.TestCase):
    def test_published_numbers_have_their_published_check(self):
        _, ours = scanned([f"={number}00" for number, *_ in PUBLISHED])
        theirs = by_cdigit([number for number, *_ in PUBLISHED])
        for (number, check, where), scan, other in zip(PUBLISHED, ours, theirs, strict=True):
            with self.subTest(where):
                self.assertEqual(scan["number"], number)
                self.assertEqual(scan["check"], check)
                self.assertEqual(mod_37_2.calc_check_digit(number), check)
                self.assertEqual(other, check)

    def test_random_numbers_have_the_check_of_both_libraries(self):
        wanted = list(numbers())
        status, ours = scanned([f"={number}00" for number in wanted])
        self.assertEqual(status, 0)
        self.assertEqual(len(ours), RANDOM)
        self.assertGreater(len(set(wanted)), RANDOM - 10)
        theirs = by_cdigit(wanted)
        self.assertEqual(len(theirs), RANDOM)
        wrong = [(number, scan["check"], other) for number, scan, other in zip(wanted, ours, theirs)
                 if not scan["number"] == number or not scan["check"] == mod_37_2.calc_check_digit(number) == other]
        self.assertEqual(wrong[:5], [])
        self.assertEqual({scan["check"] for scan in ours}, set(ALPHABET))

    def test_the_check_in_the_flags_is_verified(self):
        wanted = list(numbers())[:5_000]
        values = [ALPHABET.index(mod_37_2.calc_check_digit(number)) for number in wanted]
        _, right = scanned([f"={number}{60 + value}" for number, value in zip(wanted, values)])
        self.assertTrue(all(scan["result"] == "understood" and scan["number_checked"] for scan in right))
        _, wrong = scanned([f"={number}{60 + (value + 1 + i % 36) % 37}"
                            for i, (number, value) in enumerate(zip(wanted, values))])
        self.assertEqual({json.dumps(scan) for scan in wrong}, {'{"result": "check_failed"}'})

    def test_the_check_catches_every_wrong_character_and_every_swap(self):
        """A property of the check itself, by the reference library; our own reader is held to it natively."""
        caught = 0
        for number, check, _ in PUBLISHED:
            whole = number + check
            self.assertTrue(mod_37_2.is_valid(whole))
            for i, old in enumerate(whole):
                for new in ALPHABET:
                    if new != old:
                        self.assertFalse(mod_37_2.is_valid(whole[:i] + new + whole[i + 1:]))
                        caught += 1
                for j in range(i + 1, len(whole)):
                    if whole[j] != old:
                        swapped = list(whole)
                        swapped[i], swapped[j] = swapped[j], swapped[i]
                        self.assertFalse(mod_37_2.is_valid("".join(swapped)))
                        caught += 1
        self.assertGreater(caught, 9 * 14 * 36)


if __name__ == "__main__":
    unittest.main()
