#!/usr/bin/env python3
"""Hears notes with pocketsphinx and prints them as lines for `chutescribe note --hearings`.

    listen.py --model DIR SOUND.wav        a file: 16 kHz, mono, 16 bits
    listen.py --model DIR -                the microphone, until Ctrl-C

One JSON line an utterance: {"alternatives":[{"text":…,"confidence":…,"from":…}, …]}, best first.
"""
import argparse
import json
import sys
import wave

from pocketsphinx import Decoder, Endpointer

RATE = 16000


def chunks(sound, size):
    """Bytes of a file or of the microphone, `size` at a time."""
    if sound != "-":
        with wave.open(sound) as file:
            if (file.getframerate(), file.getnchannels(), file.getsampwidth()) != (RATE, 1, 2):
                sys.exit(f"{sound}: must be 16 kHz, mono, 16 bits: sox {sound} -r 16000 -c 1 -b 16 new.wav")
            data = file.readframes(file.getnframes())
        yield from (data[at : at + size] for at in range(0, len(data), size))
        return
    import sounddevice  # only needed here

    with sounddevice.RawInputStream(samplerate=RATE, channels=1, dtype="int16") as stream:
        print("listening; Ctrl-C ends", file=sys.stderr)
        while True:
            yield bytes(stream.read(size // 2)[0])


def utterances(sound):
    """Stretches of speech, cut at silences."""
    ends = Endpointer(sample_rate=RATE, window=1.0)
    speech = b""
    whole = ends.frame_bytes
    try:
        for chunk in chunks(sound, whole):
            part = ends.process(chunk) if len(chunk) == whole else ends.end_stream(chunk)
            if part is not None:
                speech += part
            if speech and not ends.in_speech:
                yield speech
                speech = b""
    except KeyboardInterrupt:
        pass
    if speech:
        yield speech


def hearings(decoder, speech, best):
    decoder.start_utt()
    decoder.process_raw(speech, full_utt=True)
    decoder.end_utt()
    top = decoder.hyp()
    if top is None:
        return []
    found = {}
    for place, other in enumerate(decoder.nbest() or []):
        if place > 50 or len(found) == best or other is None:
            break
        found.setdefault(other.hypstr, other.score)
    # The best hearing stands first, whatever the list of others begins with.
    found = {top.hypstr: max(found.values(), default=1.0), **{t: s for t, s in found.items() if t != top.hypstr}}
    total = sum(found.values())
    return [
        {"text": text, "confidence": round(share / total, 3), "from": "pocketsphinx"}
        for text, share in found.items()
        if text
    ]


def main():
    args = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    args.add_argument("sound")
    args.add_argument("--model", required=True, help="the folder that `chutescribe words --hints arpa` wrote")
    args.add_argument("--best", type=int, default=5, help="how many hearings of an utterance [5]")
    args.add_argument("--second", help="what another recogniser wrote, one utterance a line")
    args = args.parse_args()
    decoder = Decoder(
        samprate=RATE, lm=f"{args.model}/trade.lm", dict=f"{args.model}/trade.dict", loglevel="FATAL"
    )
    second = open(args.second, encoding="utf-8").read().splitlines() if args.second else None
    count = 0
    for count, speech in enumerate(utterances(args.sound), 1):
        all_heard = hearings(decoder, speech, args.best)
        if second is not None:
            if count > len(second):
                sys.exit(f"{args.second}: has no line {count}: one line an utterance")
            all_heard.append({"text": second[count - 1], "from": args.second})
        if all_heard:
            print(json.dumps({"alternatives": all_heard}, ensure_ascii=False), flush=True)
    if second is not None and count != len(second):
        print(f"{args.second}: {len(second)} lines, but {count} utterances were heard", file=sys.stderr)
        sys.exit(1)


if __name__ == "__main__":
    main()
