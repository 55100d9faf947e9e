"""The files of the neural network, found in the wheel that carries them and checked before use."""

import hashlib
import importlib.util
from pathlib import Path

from caddie.errors import CaddieError

PACKAGE = "moonshine_voice"
ENCODER, DECODER, TOKENS = "encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin"
DIGESTS = {
    ENCODER: "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
    DECODER: "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
    TOKENS: "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
}
"""SHA-256 of the files of the releases 0.0.44 to 0.0.73, which carry the same ones."""

_FOLDER = ("assets", "tiny-en")


def network_files() -> Path:
    """The folder of the network's files, each as it was published.

    The package is looked for and never imported: it wants a sound library that is none of our business.

    Raises:
        CaddieError: if the package is not installed, or a file is missing, damaged or of another release.
    """
    spec = importlib.util.find_spec(PACKAGE)
    places = (spec.submodule_search_locations if spec else None) or []
    if not places:
        raise CaddieError("the neural ear is not installed: pip install onnxruntime 'moonshine-voice<0.1'")
    folder = Path(places[0]).joinpath(*_FOLDER)
    for name, digest in DIGESTS.items():
        try:
            with open(folder / name, "rb") as file:
                found = hashlib.file_digest(file, "sha256").hexdigest()
        except OSError as error:
            raise CaddieError(
                f"the neural ear's file {name} cannot be read: install {PACKAGE} anew"
            ) from error
        if found != digest:
            raise CaddieError(
                f"the neural ear's file {name} is damaged or of another release: install {PACKAGE} anew"
            )
    return folder
