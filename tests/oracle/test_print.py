#!/usr/bin/python3
"""The sheet on paper: the HTML of every demo, printed by Chromium on A4 and on Letter and read back by poppler's
pdftotext. What a nurse works with stands on the first page, and nothing runs over an edge."""

import re
import shutil
import subprocess
import tempfile
import unittest
from pathlib import Path

from command import DEMOS, PROTOCOLS, hangtime

CHROMIUM = shutil.which("chromium")
POINTS = {"A4": (595, 842), "letter": (612, 792)}


def printed(html, paper, folder):
    """Pages of the PDF: (width, height, text, words with their right and lower edges)."""
    page, pdf = Path(folder) / "sheet.html", Path(folder) / "sheet.pdf"
    page.write_text(html.replace("<style>", f"<style>@page {{ size: {paper}; }}"), encoding="utf-8")
    subprocess.run([CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                    f"--user-data-dir={folder}/profile", f"--print-to-pdf={pdf}", page.as_uri()],
                   check=True, capture_output=True, timeout=120)
    boxes = subprocess.run(["pdftotext", "-bbox", pdf, "-"], check=True, capture_output=True, text=True).stdout
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True).stdout
    pages = []
    for page_boxes, page_text in zip(boxes.split("<page ")[1:], text.split("\f")):
        width, height = (float(x) for x in re.match(r'width="([\d.]+)" height="([\d.]+)"', page_boxes).groups())
        edges = [(float(x), float(y)) for x, y in re.findall(r'xMax="([\d.]+)" yMax="([\d.]+)"', page_boxes)]
        pages.append((width, height, " ".join(page_text.split()), edges))
    return pages


@unittest.skipUnless(CHROMIUM and shutil.which("pdftotext"), "no chromium or no pdftotext")
class Paper(unittest.TestCase):
    def check_edges(self, pages, paper):
        for width, height, text, edges in pages:
            self.assertAlmostEqual(width, POINTS[paper][0], delta=1)
            self.assertAlmostEqual(height, POINTS[paper][1], delta=1)
            self.assertTrue(text, "an empty page")
            self.assertTrue(all(x <= width - 20 and y <= height - 20 for x, y in edges), "over the edge")

    def test_sheets(self):
        for path in DEMOS:
            said = hangtime("sheet", path)[1]
            headline = " ".join(re.findall(r"^\| (.*?) +\|$", said, re.M))
            for paper in POINTS:
                with self.subTest(f"{path.name} {paper}"), tempfile.TemporaryDirectory() as folder:
                    pages = printed(hangtime("sheet", path, "--as", "html")[1], paper, folder)
                    self.check_edges(pages, paper)
                    first = pages[0][2]
                    self.assertIn(headline, first)
                    self.assertIn("not a medical device", first)
                    self.assertEqual("Done at" in first, "What to do, and when" in said)
                    if "What to do, and when" in said:
                        self.assertIn("Observations after the end", first)
                        self.assertNotIn("How it was worked out", first)

    def test_cards(self):
        for path, paper in zip(PROTOCOLS, [*POINTS] * len(PROTOCOLS)):
            with self.subTest(f"{path.name} {paper}"), tempfile.TemporaryDirectory() as folder:
                pages = printed(hangtime("card", path, "--as", "html")[1], paper, folder)
                self.check_edges(pages, paper)
                self.assertIn("One bag: the times, by hand", pages[1][2])


if __name__ == "__main__":
    unittest.main()
