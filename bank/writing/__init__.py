"""Every sentence and formula that a candidate reads, written from the model: stems, worked solutions, prompts, figures.

Solved questions and variants come in, paragraphs go out. A sentence stands whole, with named gaps, and nowhere else is
one glued together; messages about faults stand with the checks that find them.
"""
