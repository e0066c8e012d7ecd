"""Certificates of made-up laboratories, as files; torques in the forms the D-SI has for them."""

SHELL = """<?xml version="1.0" encoding="UTF-8"?>
<!-- written by hand for these tests -->
<dcc:digitalCalibrationCertificate xmlns:dcc="https://ptb.de/dcc" xmlns:si="https://ptb.de/si" \
schemaVersion="{version}">
<dcc:administrativeData>
<dcc:dccSoftware><dcc:software><dcc:name><dcc:content>Quern</dcc:content></dcc:name>\
<dcc:release>v2.1.0</dcc:release></dcc:software></dcc:dccSoftware>
<dcc:coreData><dcc:countryCodeISO3166_1>DE</dcc:countryCodeISO3166_1>
<dcc:usedLangCodeISO639_1>de</dcc:usedLangCodeISO639_1>
<dcc:mandatoryLangCodeISO639_1>de</dcc:mandatoryLangCodeISO639_1>
<dcc:uniqueIdentifier>TPB-0042</dcc:uniqueIdentifier>
<dcc:beginPerformanceDate>2026-03-01</dcc:beginPerformanceDate>
<dcc:endPerformanceDate>2026-03-02Z</dcc:endPerformanceDate>
<dcc:performanceLocation>laboratory</dcc:performanceLocation></dcc:coreData>
<dcc:items><dcc:item><dcc:name><dcc:content>Aufnehmer</dcc:content></dcc:name><dcc:identifications>\
<dcc:identification><dcc:issuer>manufacturer</dcc:issuer><dcc:value>7</dcc:value></dcc:identification>\
</dcc:identifications></dcc:item></dcc:items>
<dcc:calibrationLaboratory><dcc:contact><dcc:name><dcc:content lang="de">Pr&#252;fstelle Nord</dcc:content>\
<dcc:content lang="en">North test bench</dcc:content></dcc:name>\
<dcc:location><dcc:city>Nord</dcc:city></dcc:location></dcc:contact></dcc:calibrationLaboratory>
<dcc:respPersons><dcc:respPerson><dcc:person><dcc:name><dcc:content>Tarn</dcc:content></dcc:name></dcc:person>\
</dcc:respPerson></dcc:respPersons>
<dcc:customer><dcc:name><dcc:content>Tern Point</dcc:content></dcc:name>\
<dcc:location><dcc:city>Tern</dcc:city></dcc:location></dcc:customer>
<dcc:statements><dcc:statement refType="basic_recalibration"><dcc:date>2027-03-02</dcc:date></dcc:statement>\
</dcc:statements>
</dcc:administrativeData>
<dcc:measurementResults>{results}</dcc:measurementResults>
</dcc:digitalCalibrationCertificate>
"""
RESULT = """<dcc:measurementResult><dcc:name><dcc:content>Drehmoment</dcc:content></dcc:name>{before}\
<dcc:results><dcc:result><dcc:name><dcc:content>Rechts</dcc:content></dcc:name>\
<dcc:data>{data}</dcc:data></dcc:result></dcc:results></dcc:measurementResult>"""
STATUS = """<dcc:influenceConditions><dcc:influenceCondition>\
<dcc:name><dcc:content>-</dcc:content></dcc:name>\
<dcc:status>{status}</dcc:status><dcc:data><dcc:text><dcc:content>-</dcc:content></dcc:text></dcc:data>\
</dcc:influenceCondition></dcc:influenceConditions>"""
NEWTON_METRE = r"\newton\metre"


def certificate(*data: str, version: str = "3.3.0", status: str = "") -> bytes:
    """A certificate with one block of results for each of `data`, or the same block in one."""
    blocks = [
        RESULT.format(data=one, before=STATUS.format(status=word) if word else "")
        for one, word in zip(data, status.split() or [""] * len(data), strict=True)
    ]
    return SHELL.format(version=version, results="".join(blocks)).encode()


def table(*quantities: str) -> str:
    """A list of quantities."""
    return f"<dcc:list>{''.join(quantities)}</dcc:list>"


def quantity(kind: str, value: str) -> str:
    """One quantity with a refType."""
    return f'<dcc:quantity refType="{kind}">{value}</dcc:quantity>'


def xml_list(values: str, unit: str = NEWTON_METRE, uncertainty: str = "") -> str:
    """Several values in one element."""
    return (
        f"<si:realListXMLList><si:valueXMLList>{values}</si:valueXMLList>"
        f"<si:unitXMLList>{unit}</si:unitXMLList>{uncertainty}</si:realListXMLList>"
    )


def real(value: str, unit: str = NEWTON_METRE, uncertainty: str = "") -> str:
    """A single value."""
    return f"<si:real><si:value>{value}</si:value><si:unit>{unit}</si:unit>{uncertainty}</si:real>"


def real_list(*values: str, unit: str = NEWTON_METRE) -> str:
    """Several values, each in its own element."""
    return f"<si:list><si:realList>{''.join(real(value, unit) for value in values)}</si:realList></si:list>"


def expanded_mu(u: str, k: str = "2") -> str:
    """U of a single value, as in 2.2.1."""
    return (
        "<si:measurementUncertaintyUnivariate><si:expandedMU>"
        f"<si:valueExpandedMU>{u}</si:valueExpandedMU><si:coverageFactor>{k}</si:coverageFactor>"
        "<si:coverageProbability>0.95</si:coverageProbability>"
        "</si:expandedMU></si:measurementUncertaintyUnivariate>"
    )


def expanded_mu_list(u: str, k: str = "2") -> str:
    """The same of a list."""
    return (
        "<si:measurementUncertaintyUnivariateXMLList><si:expandedMUXMLList>"
        f"<si:valueExpandedMUXMLList>{u}</si:valueExpandedMUXMLList>"
        f"<si:coverageFactorXMLList>{k}</si:coverageFactorXMLList>"
        "<si:coverageProbabilityXMLList>0.95</si:coverageProbabilityXMLList>"
        "</si:expandedMUXMLList></si:measurementUncertaintyUnivariateXMLList>"
    )


def standard_mu(u: str) -> str:
    """The standard uncertainty of a single value."""
    return (
        "<si:measurementUncertaintyUnivariate><si:standardMU>"
        f"<si:valueStandardMU>{u}</si:valueStandardMU></si:standardMU></si:measurementUncertaintyUnivariate>"
    )


def expanded_unc(u: str, k: str = "2") -> str:
    """U of a single value, deprecated."""
    return (
        f"<si:expandedUnc><si:uncertainty>{u}</si:uncertainty><si:coverageFactor>{k}</si:coverageFactor>"
        "<si:coverageProbability>0.95</si:coverageProbability></si:expandedUnc>"
    )


def expanded_unc_list(u: str, k: str = "2") -> str:
    """The same of a list, deprecated."""
    return (
        f"<si:expandedUncXMLList><si:uncertaintyXMLList>{u}</si:uncertaintyXMLList>"
        f"<si:coverageFactorXMLList>{k}</si:coverageFactorXMLList>"
        "<si:coverageProbabilityXMLList>0.95</si:coverageProbabilityXMLList></si:expandedUncXMLList>"
    )


SHOWN, TRUE, NOMINAL = "basic_measuredValue", "basic_referenceValue", "basic_nominalValue"
ERROR, CORRECTION = "basic_measurementError", "basic_measurementError_correction"
GOOD = certificate(
    table(
        quantity(SHOWN, xml_list("0 10.15 50.40 100.0")),
        quantity(TRUE, xml_list("0 10.120 50.30 99.8", uncertainty=expanded_mu_list("0.01 0.02 0.05 0.1"))),
    )
)
"""What was shown beside the true torque, with a row at zero."""
