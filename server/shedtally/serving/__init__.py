"""How the application is put on the network: address, certificates, listeners, terminal.

address.py       the one stable address of a server, kept in the data folder
authority.py     the local certificate authority and the server certificate it signs
certificates.py  what those certificates hold
listen.py        gunicorn: HTTPS, or plain HTTP behind a proxy or for the demo
plain.py         the second process: plain HTTP, set-up page first
announce.py      what the terminal says: addresses, fingerprint, QR, pairing code
backup.py        a consistent copy of the data folder, its check and its way back
"""
