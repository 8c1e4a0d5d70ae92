#!/usr/bin/env python3
"""Hears the sound files of a folder with pocketsphinx.

    hear.py IN.tsv FOLDER OUT.tsv [--model DIR]

IN.tsv: id, said, meaning. FOLDER holds ID-VOICE.wav, 16 kHz. OUT.tsv: id, voice, recogniser, heard. With --model,
pocketsphinx takes DIR/trade.lm and DIR/trade.dict, as `chutescribe words --hints arpa` makes them; else its own.
"""
import argparse
import multiprocessing
import os
import sys
import wave

from pocketsphinx import Decoder

DECODER = None
VOICES = ("slt", "rms")


def begin(model):
    global DECODER
    own = {"lm": f"{model}/trade.lm", "dict": f"{model}/trade.dict"} if model else {}
    DECODER = Decoder(samprate=16000, loglevel="FATAL", **own)


def hear(path):
    with wave.open(path) as file:
        sound = file.readframes(file.getnframes())
    DECODER.start_utt()
    DECODER.process_raw(sound, full_utt=True)
    DECODER.end_utt()
    return DECODER.hyp().hypstr if DECODER.hyp() else ""


def main():
    args = argparse.ArgumentParser()
    args.add_argument("spoken")
    args.add_argument("folder")
    args.add_argument("out")
    args.add_argument("--model")
    args = args.parse_args()
    ids = [line.split("\t")[0] for line in open(args.spoken, encoding="utf-8") if line.strip() and line[0] != "#"]
    todo = [(i, voice) for i in ids for voice in VOICES]
    paths = [f"{args.folder}/{i}-{voice}.wav" for i, voice in todo]
    workers = min(4, os.cpu_count() or 1)
    with multiprocessing.get_context("spawn").Pool(workers, begin, (args.model,)) as pool:
        heard = pool.map(hear, paths, chunksize=4)
    name = "pocketsphinx+lm" if args.model else "pocketsphinx"
    with open(args.out, "w", encoding="utf-8") as out:
        for (i, voice), text in zip(todo, heard):
            # A note that nothing was heard of still has its line.
            out.write(f"{i}\t{voice}\t{name}\t{text or '-'}\n")
    print(f"{name}: {len(heard)} heard", file=sys.stderr)


if __name__ == "__main__":
    main()
