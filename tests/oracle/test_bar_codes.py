#!/usr/bin/python3
"""Real bar codes: drawn by zint, read back by zbarimg, and what was read is understood.

The labels are invented, under issuer numbers that are set aside for tests (A9990 to A9999).
"""

import json
import subprocess
import tempfile
import unittest
from pathlib import Path

from stdnum.iso7064 import mod_37_2

from command import hangtime

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"


def number(text):
    """The bar code of a number, with its check in the flags."""
    return f"={text}{60 + ALPHABET.index(mod_37_2.calc_check_digit(text))}"


# What is in the bar code, and what has to be understood of it.
LABELS = [
    (number("A999926000481"), {"number": "A999926000481", "number_checked": True}),
    ("=A99992600048200", {"number": "A999926000482", "number_checked": False}),
    ("=%9500", {"group": {"abo": "o", "rhd": "negative", "use": "not_stated"}}),
    ("=%5100", {"group": {"abo": "o", "rhd": "positive", "use": "not_stated"}}),
    ("=%0600", {"group": {"abo": "a", "rhd": "negative", "use": "not_stated"}}),
    ("=%6200", {"group": {"abo": "a", "rhd": "positive", "use": "not_stated"}}),
    ("=%1700", {"group": {"abo": "b", "rhd": "negative", "use": "not_stated"}}),
    ("=%7300", {"group": {"abo": "b", "rhd": "positive", "use": "not_stated"}}),
    ("=%2800", {"group": {"abo": "ab", "rhd": "negative", "use": "not_stated"}}),
    ("=%8400", {"group": {"abo": "ab", "rhd": "positive", "use": "not_stated"}}),
    ("=%6600", {"group": {"abo": "a", "rhd": None, "use": "not_stated"}}),
    ("=%Mx00", {"group": {"abo": None, "rhd": None, "use": "not_for_transfusion"}}),
    ("=<E0398V00", {"product": "E0398V00"}),
    ("=<EA007VAa", {"product": "EA007VAa"}),
    ("=>026073", {"expiry": {"local": "2026-03-14T23:59", "end_of_day": True}}),
    ("&>0260731340", {"expiry": {"local": "2026-03-14T13:40", "end_of_day": False}}),
    ("=*026070", {"collected": {"local": "2026-03-11T23:59", "end_of_day": True}}),
    ("&$0101000100250000", {"volume_ml": 250}),
    (number("A999926000481") + "=%6200", {"number": "A999926000481", "number_checked": True,
                                          "group": {"abo": "a", "rhd": "positive", "use": "not_stated"}}),
    ("=<E0398V00&>0260731340", {"product": "E0398V00", "expiry": {"local": "2026-03-14T13:40", "end_of_day": False}}),
]

# Bar codes that are no bag's.
OTHERS = [
    ("CODE128", "7731904455", "not_bag_data"),
    ("CODE128", "&#AB10KX73190445", "not_bag_data"),
    ("CODE128", "=#AB19470613&#AB10KX73190445", "not_bag_data"),
    ("GS1_128", "[8018]010731904455667784", "not_bag_data"),
    ("CODE128", "=A99992600048107", "not_a_bag"),
    ("QRCODE", "KX7319044", "not_bag_data"),
]


def read_back(folder, kind, text):
    picture = Path(folder) / "label.png"
    subprocess.run(["zint", "-b", kind, "-d", text, "-o", str(picture), "--scale=2", "--whitesp=10", "--quietzones"],
                   check=True, capture_output=True, timeout=60)
    done = subprocess.run(["zbarimg", "--quiet", "--raw", str(picture)], check=True, capture_output=True, timeout=60)
    return done.stdout.decode()


def scan(texts):
    status, out, err = hangtime("scan", "-", "--as", "json", stdin="".join(texts))
    assert err == "", err
    return status, json.loads(out)["scans"]


class BarCodes(unittest.TestCase):
    def test_labels_drawn_and_read_back_are_understood(self):
        with tempfile.TemporaryDirectory() as folder:
            read = [read_back(folder, "CODE128", text) for text, _ in LABELS]
        self.assertEqual(read, [text + "\n" for text, _ in LABELS])
        status, scans = scan(read)
        self.assertEqual(status, 0)
        for (text, wanted), got in zip(LABELS, scans, strict=True):
            with self.subTest(text):
                self.assertEqual(got.pop("result"), "understood")
                if "number" in wanted:
                    self.assertEqual(got.pop("check"), mod_37_2.calc_check_digit(wanted["number"]))
                for key, value in got.items():
                    self.assertEqual(value, wanted.get(key, False if key == "number_checked" else None), key)
                self.assertLessEqual(set(wanted), set(got))

    def test_other_bar_codes_are_refused_and_nothing_of_them_is_said(self):
        with tempfile.TemporaryDirectory() as folder:
            read = [read_back(folder, kind, text) for kind, text, _ in OTHERS]
        status, scans = scan(read)
        self.assertEqual(status, 1)
        self.assertEqual(scans, [{"result": reason} for *_, reason in OTHERS])
        _, out, _ = hangtime("scan", "-", stdin="".join(read))
        for text in ("7319", "KX", "1947", "8018", "A9999"):
            self.assertNotIn(text, out)


if __name__ == "__main__":
    unittest.main()
