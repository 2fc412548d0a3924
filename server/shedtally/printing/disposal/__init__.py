"""The disposal list: what a waste site, a yard manager or an inspector takes without a question."""
