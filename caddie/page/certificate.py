"""The certificate of the page for phones beside this machine: browsers give a microphone to secure pages alone.

An authority of this machine's own signs a certificate for the address that is served. It may vouch for private
addresses and nothing else (name constraints, RFC 5280 section 4.2.1.10), so that a phone that is told to trust it
trusts no other site by it. The certificate is made anew for another address and before it ends; the authority stays.
"""

import ipaddress
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv4Network
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from caddie.errors import CaddieError
from caddie.keeping import read_bytes, write_atomically
from caddie.page.keys import key_folder

PRIVATE_NETWORKS = tuple(
    IPv4Network(each)
    for each in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")
)
"""Addresses of local networks (RFC 1918, RFC 3927) and of this machine."""
AUTHORITY_LASTS = timedelta(days=3650)
LASTS = timedelta(days=397)
RENEWED_BEFORE = timedelta(days=30)
CLOCK_SLACK = timedelta(days=1)
"""A phone's clock may be behind this machine's."""
_LARGEST_BYTES = 20_000


class Certificate(NamedTuple):
    """What the server shows, and what a phone may be told to trust."""

    file: Path
    """Key and certificates for the server."""
    fingerprint: str
    """SHA-256 of the certificate, as browsers show it."""
    authority: bytes
    """The authority without its key."""


class _Signed(NamedTuple):
    key: ec.EllipticCurvePrivateKey
    certificate: x509.Certificate

    @property
    def pem(self) -> bytes:
        """Key and certificate in one, so that none is there without the other."""
        key = self.key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
        return key + self.certificate.public_bytes(serialization.Encoding.PEM)


def is_private(address: IPv4Address) -> bool:
    """Whether an address is one of a local network."""
    return any(address in network for network in PRIVATE_NETWORKS)


def certificate_for(address: IPv4Address, now: datetime | None = None) -> Certificate:
    """The certificate for an address, made where there is none that fits.

    Raises:
        CaddieError: if it cannot be read or written.
    """
    now = now or datetime.now(UTC)
    authority = _kept(key_folder() / "authority.pem")
    if authority is None or authority.certificate.not_valid_after_utc - now < LASTS:
        authority = _made_authority(now)
        write_atomically(key_folder() / "authority.pem", authority.pem, new_folder=True, through_link=False)
    path = key_folder() / "certificate.pem"
    own = _kept(path)
    if own is None or not _fits(own.certificate, authority.certificate, address, now):
        own = _made(address, authority, now)
        write_atomically(path, own.pem, new_folder=True, through_link=False)
    fingerprint = own.certificate.fingerprint(hashes.SHA256()).hex(":").upper()
    return Certificate(path, fingerprint, authority.certificate.public_bytes(serialization.Encoding.PEM))


def _kept(path: Path) -> _Signed | None:
    if not path.exists():
        return None
    pem = read_bytes(path, _LARGEST_BYTES)
    try:
        key = serialization.load_pem_private_key(pem, None)
        certificate = x509.load_pem_x509_certificate(pem)
    except ValueError:
        key = None
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        raise CaddieError(f"{path}: is no certificate of the page; remove it, and a new one is made")
    return _Signed(key, certificate)


def _fits(own: x509.Certificate, authority: x509.Certificate, address: IPv4Address, now: datetime) -> bool:
    names = own.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    signed = own.extensions.get_extension_for_class(x509.AuthorityKeyIdentifier).value
    signer = authority.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    return (
        names.get_values_for_type(x509.IPAddress) == [address]
        and signed.key_identifier == signer.key_identifier
        and own.not_valid_before_utc <= now <= own.not_valid_after_utc - RENEWED_BEFORE
    )


def _made_authority(now: datetime) -> _Signed:
    key = ec.generate_private_key(ec.SECP256R1())
    name = _name("caddie page authority")
    ours = [
        *(x509.IPAddress(network) for network in PRIVATE_NETWORKS),
        # Where one name of a kind is permitted no other is: without this line every host name would be.
        x509.DNSName("caddie.invalid"),
    ]
    identifier = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    built = (
        _dated(x509.CertificateBuilder(), now, AUTHORITY_LASTS)
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(permitted_subtrees=ours, excluded_subtrees=None), critical=True)
        .add_extension(identifier, critical=False)
    )
    return _Signed(key, built.sign(key, hashes.SHA256()))


def _made(address: IPv4Address, authority: _Signed, now: datetime) -> _Signed:
    key = ec.generate_private_key(ec.SECP256R1())
    signer = authority.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    built = (
        _dated(x509.CertificateBuilder(), now, LASTS)
        .subject_name(_name("caddie page"))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(address)]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(signer), critical=False)
    )
    return _Signed(key, built.sign(authority.key, hashes.SHA256()))


def _dated(builder: x509.CertificateBuilder, now: datetime, lasts: timedelta) -> x509.CertificateBuilder:
    return (
        builder.serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCK_SLACK)
        .not_valid_after(now + lasts)
    )


def _name(common_name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common_name)])


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def local_address(named: str | None) -> IPv4Address:
    """The address named, or else this machine's own in its network.

    Raises:
        CaddieError: if it is none of a local network, or there is no network.
    """
    text = named or _address_of_this_machine()
    try:
        address = ipaddress.IPv4Address(text)
    except ValueError:
        raise CaddieError(f"--address {text[:60]}: is no IPv4 address such as 192.168.1.7") from None
    if not is_private(address):
        raise CaddieError(f"{address}: is no address of a local network; the page is not for the whole world")
    return address


def _address_of_this_machine() -> str:
    import socket

    # Nothing is sent: a datagram socket only asks the system which way it would go (the address is that of a
    # network for documentation, RFC 5737).
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
        except OSError:
            raise CaddieError(
                "this machine has no network to let a phone in from: join one, or name the address with --address"
            ) from None
