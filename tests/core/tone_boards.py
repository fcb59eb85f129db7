"""Boards whose capacitance is plain to see, for the tests of tone."""

from dataclasses import replace

from boardshop.core.tone import compute_tone
from tests.core.builders import board, cable_type, chain, pedal

HOT_LEAD = cable_type("C2", pf_per_m=110)


def leads(*links, first_mm=6000, last_mm=9000):
    """The first and the last link as instrument and amp lead of 110 pF/m."""
    first, *middle, last = links
    return (replace(first, length=first_mm, cable="C2"), *middle, replace(last, length=last_mm, cable="C2"))


def wired(*pedals, each_mm=200, **overrides):
    """Guitar, 6 m lead, pedals with equal patches of 100 pF/m, 9 m lead, amp."""
    links = leads(*chain("G1", *(p.ref for p in pedals), "A1", length=each_mm))
    return board(*pedals, links=links, cables=(cable_type(), HOT_LEAD), **overrides)


def lead_of(pf, *pedals, **overrides):
    """So much capacitance from the guitar to the first pedal (or to the amp), all else of no length."""
    first, *others = chain("G1", *(p.ref for p in pedals), "A1", length=0)
    links = (replace(first, length=pf * 10), *others)
    return board(*pedals, links=links, **overrides)


def tone_of(plan):
    return compute_tone(plan).sources[0]


def rules_of(plan):
    return [finding.rule for finding in compute_tone(plan).findings]


def findings_of(plan, rule):
    return [finding for finding in compute_tone(plan).findings if finding.rule == rule]


BYPASSED = tuple(pedal(f"P{number}") for number in range(1, 9))
