"""Of items that differ in numbers only: what is proved anew for each, once one of them has been proved in full."""
