"""How much of the machine a stranger's question may have: work comes in, and comes back done or as OverBudgetError.

Algebra goes to a forked worker that the kernel ends; what stays in this process is under a timer of processor time.
Whatever is new and works on a stranger's model must go through ``budget.guarded`` or ``worker``.
"""
