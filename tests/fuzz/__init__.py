"""What strangers may send, made up by a fuzzer: a module for each door, with what must hold whatever comes in.

A target has ``check(data)``, which raises AssertionError where a promise is broken and lets any foreign error out;
``LONGEST``, how long an input may be; ``samples()``, inputs that the project has anyway; and perhaps ``mutated``.
``corpus/`` holds inputs that reach different code, ``found/`` those that once broke something (its README says what).
"""

TARGETS = ("loader", "expression", "results", "prove")
