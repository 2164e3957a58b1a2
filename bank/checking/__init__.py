"""What a careful department asks of a bank beyond its numbers: every question, option and sentence against a rule.

Solved questions and items of several seeds come in, findings and faults go out; nothing is changed. Each module holds
the rules about one thing, and names the source of a rule beside it.
"""
