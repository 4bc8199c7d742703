#!/usr/bin/python3
"""Practice cards: printed by Chromium, the bar codes read back from the paper by zbarimg and understood as bags; the check
character by python-stdnum. And the Code 128 of any text, read back as it was."""

import json
import random
import re
import shutil
import string
import subprocess
import tempfile
import unittest
from pathlib import Path

from stdnum.iso7064 import mod_37_2

from command import ROOT, hangtime

CHROMIUM = shutil.which("chromium")
SCENARIOS = sorted((ROOT / "demo-data/rehearsals").glob("*.json"))
MARK = "PRACTICE, NOT FOR TRANSFUSION"


def cards_of(scenario, seed, form="html"):
    status, out, err = hangtime("rehearse", scenario, "--cards", "--seed", seed, "--as", form)
    assert (status, err) == (0, ""), err
    return out


def codes_in(text):
    return re.findall(r"bar code +(\S+)", text)


def scanned(codes):
    return json.loads(hangtime("scan", "-", "--as", "json", stdin="".join(c + "\n" for c in codes))[1])["scans"]


def read_from_paper(html, paper):
    """(what zbarimg reads on each page, the text of each page)"""
    with tempfile.TemporaryDirectory() as folder:
        page, pdf = Path(folder) / "cards.html", Path(folder) / "cards.pdf"
        page.write_text(html.replace("<style>", f"<style>@page {{ size: {paper}; }}"), encoding="utf-8")
        subprocess.run([CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                        f"--user-data-dir={folder}/profile", f"--print-to-pdf={pdf}", page.as_uri()],
                       check=True, capture_output=True, timeout=120)
        subprocess.run(["pdftoppm", "-r", "300", "-gray", pdf, Path(folder) / "page"], check=True, timeout=120)
        read = [subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Scode128.enable", picture], capture_output=True,
                               timeout=120).stdout.decode().split("\n")[:-1] for picture in sorted(Path(folder).glob("page*.pgm"))]
        text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True).stdout
    return read, text.split("\f")


class Cards(unittest.TestCase):
    def test_labels_are_valid_under_the_reserved_numbers_and_differ_by_seed(self):
        self.assertGreater(len(SCENARIOS), 10)
        seen = set()
        for scenario in SCENARIOS:
            for seed in (1, 2, 77):
                text = cards_of(scenario, seed, "text")
                codes = codes_in(text)
                scans = scanned(codes)
                self.assertEqual({s["result"] for s in scans}, {"understood"}, scenario.name)
                cards = text.count(MARK)
                numbers = [s for s in scans if s.get("number")]
                self.assertEqual(cards, len(numbers))
                self.assertEqual(cards % 2, 0)
                self.assertGreaterEqual(cards, 2)
                for s in numbers:
                    self.assertRegex(s["number"], r"^A999[0-9][0-9]{8}$")
                    self.assertTrue(s["number_checked"])
                    self.assertIn(f"[{mod_37_2.calc_check_digit(s['number'])}]", text)
                seen.add(tuple(codes))
        self.assertEqual(len(seen), 3 * len(SCENARIOS))

    def test_the_bag_of_the_card_is_the_bag_of_the_rehearsal(self):
        for scenario in SCENARIOS:
            actions = ROOT / f"demo-data/rehearsals/actions/{scenario.stem}.model.json"
            for seed in (3, 4):
                log = hangtime("rehearse", scenario, "--actions", actions, "--seed", seed, "--log")[1]
                issued = [r for r in map(json.loads, log.splitlines()) if r["what"] == "issued"]
                scans = scanned(codes_in(cards_of(scenario, seed, "text")))
                bags = {(scans[i]["number"][-4:], scans[i + 4]["volume_ml"]) for i, s in enumerate(scans)
                        if s.get("number") and i + 4 < len(scans) and scans[i + 4].get("volume_ml")}
                self.assertTrue(issued)
                for r in issued:
                    self.assertIn((r["bag_digits"], r["bag_ml"]), bags, scenario.name)

    def test_one_character_differs_only_where_the_scenario_says_so(self):
        for scenario in SCENARIOS:
            text = cards_of(scenario, 5, "text")
            numbers = [s["number"] for s in scanned(codes_in(text)) if s.get("number")]
            differs = [a for a, b in zip(numbers[::2], numbers[1::2]) if sum(x != y for x, y in zip(a, b)) == 1]
            wanted = any(h["what"] == "tag_differs" for h in json.loads(scenario.read_text(encoding="utf-8"))["happens"])
            self.assertEqual(len(differs), int(wanted), scenario.name)
            self.assertEqual(len(set(numbers)), len(numbers) // 2 + int(wanted))

    @unittest.skipUnless(CHROMIUM and shutil.which("zbarimg") and shutil.which("pdftoppm"), "no chromium, zbarimg or pdftoppm")
    def test_what_is_printed_is_read_back_from_the_paper(self):
        for scenario, paper in ((SCENARIOS[0], "A4"), (SCENARIOS[12], "letter")):
            with self.subTest(scenario.name):
                codes = codes_in(cards_of(scenario, 9, "text"))
                read, pages = read_from_paper(cards_of(scenario, 9), paper)
                self.assertEqual(sorted(code for page in read for code in page), sorted(set(codes)) if len(read) == 1 else
                                 sorted(code for page in read for code in set(page)))
                self.assertEqual({code for page in read for code in page}, set(codes))
                self.assertEqual({s["result"] for s in scanned(code for page in read for code in page)}, {"understood"})
                self.assertEqual("".join(pages).count(MARK), len([c for c in codes if c.startswith("=A")]))
                # What the educator keeps back stands on a page of its own, without a card.
                self.assertIn("For the educator", pages[-2] if not pages[-1].strip() else pages[-1])


class Code128(unittest.TestCase):
    @unittest.skipUnless(shutil.which("zbarimg"), "no zbarimg")
    def test_any_text_is_read_back_as_it_was(self):
        """By way of the program that draws nothing but bar codes: the widths as a picture of our own."""
        program = ROOT / "build/native/code128"
        draw = random.Random(128)
        texts = [string.printable[:95][i:i + 19] for i in range(0, 95, 19)] + [f"{n:02d}" * 3 for n in range(0, 100, 7)]
        for _ in range(60):
            parts = [draw.choice([string.digits, string.digits, string.ascii_letters, string.punctuation]) for _ in range(draw.randint(1, 5))]
            texts.append("".join(draw.choice(p) for p in parts for _ in range(draw.randint(1, 7))) or "x")
        texts = [t for t in (t.strip() for t in texts) if t]
        out = subprocess.run([program], input="".join(t + "\n" for t in texts), capture_output=True, text=True, check=True, timeout=60).stdout
        for text, widths in zip(texts, out.splitlines(), strict=True):
            row = b"\xff" * 30
            for place, width in enumerate(map(int, widths)):
                row += (b"\x00" if place % 2 == 0 else b"\xff") * (3 * width)
            row += b"\xff" * 30
            with tempfile.NamedTemporaryFile(suffix=".pgm") as picture:
                picture.write(b"P5 %d 60 255\n" % len(row) + row * 60)
                picture.flush()
                read = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Scode128.enable", picture.name], capture_output=True,
                                      timeout=60).stdout.decode()
            self.assertEqual(read, text + "\n")


if __name__ == "__main__":
    unittest.main()
