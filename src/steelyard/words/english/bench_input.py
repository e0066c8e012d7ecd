"""What comes in at the bench: photographs, and lines sent by a device or typed beside a reading."""

BENCH_INPUT: dict[str, str] = {
    "photo-file": "a file of {count} bytes",
    "photo-picture": "a picture of {width} × {height} pixels",
    "photo-heic": "a picture in HEIC form",
    "want-photograph": "a photograph as JPEG, PNG or WebP",
    "want-photograph-compatible": "a photograph as JPEG, PNG or WebP; set the camera to save JPEG, or send a screenshot of the picture",
    "want-photograph-bytes": "a photograph file of at most {most} MB",
    "want-photograph-pixels": "a photograph of at most {most} million pixels",
    "want-still-photograph": "a still photograph, not a moving one",
    "want-whole-photograph": "a photograph file that is whole; send it again, or take a new one",
    "want-bench-reading": "one reading such as {example} and nothing else on the line, with or without its unit",
    "want-clockwise": "a reading without a minus: a minus is counter-clockwise, and this pull is clockwise; turn the device's direction over, or choose the other direction",
}
