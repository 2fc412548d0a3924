"""Phones, links and a server under every misfortune, in schedules that can be run again."""
