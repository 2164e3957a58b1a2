"""How much of the machine a stranger's question may have: work comes in, and comes back done or as OverBudgetError.

Algebra goes to a worker that the kernel ends; what stays in this process is under a timer of processor time. A whole
check of a file is made ``apart``, in a fork that is left when a step in it had to be ended. Whatever is
new and works on a stranger's model must go through ``budget.guarded`` or ``worker``.
"""
