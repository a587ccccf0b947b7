"""Lengthwise: which lifts, how, how much and why, computed from a musculoskeletal model and the studies."""
