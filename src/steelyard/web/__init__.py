"""The door in the browser: pages and a JSON interface, served to this computer alone.

In: forms and JSON, as typed. Out: pages that work without JavaScript, JSON, files kept by digest.
Refuses: other hosts, other origins, anything the desk refuses; says each in one sentence beside its field.
"""

from steelyard.web.app import make_app
from steelyard.web.serving import serve

__all__ = ["make_app", "serve"]
