"""Lifts: what hangs on the hook, how it hangs, and what each leg pulls."""
