#!/usr/bin/env python3
"""Draws the first column of PAGE.tsv in a font as an image: draw.py PAGE.tsv FONT.ttf IMAGE.png"""
import sys

from PIL import Image, ImageDraw, ImageFont

page, font, image = sys.argv[1:4]
lines = [line.split("\t")[0] for line in open(page, encoding="utf-8") if line.strip() and not line.startswith("#")]
size, step, margin = 64, 110, 120
font = ImageFont.truetype(font, size)
width = max(int(font.getlength(line)) for line in lines) + 2 * margin
sheet = Image.new("L", (width, step * len(lines) + 2 * margin), 255)
draw = ImageDraw.Draw(sheet)
for n, line in enumerate(lines):
    draw.text((margin, margin + n * step), line, font=font, fill=20)
sheet.save(image, dpi=(300, 300))
