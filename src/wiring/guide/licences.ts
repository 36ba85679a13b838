/** Whose codes the guide names, and on what terms. */
export const licences = [
  {
    term: 'SNOMED CT',
    text: 'SNOMED CT is owned by SNOMED International. Using its codes may need a licence in your country, free of charge in member countries.',
  },
  {
    term: 'LOINC',
    text: 'This material contains content from LOINC (http://loinc.org). LOINC is copyright Regenstrief Institute, Inc. and the Logical Observation Identifiers Names and Codes (LOINC) Committee and is available at no cost under the license at http://loinc.org/license.',
  },
  {
    term: 'CPT',
    text: 'CPT codes stand here without descriptors. CPT is copyright and a registered trademark of the American Medical Association.',
  },
  {
    term: 'RxNorm',
    text: 'Publicly available data courtesy of the U.S. National Library of Medicine, which is not responsible for this service and does not endorse or recommend it or any other product.',
  },
  {
    term: 'ATC',
    text: 'Codes of the WHO Collaborating Centre for Drug Statistics Methodology, Oslo, Norway, unchanged.',
  },
  {
    term: 'ICD-10 and OPCS-4',
    text: 'ICD-10 codes are of the World Health Organization, ICD-10-CM and ICD-10-PCS are public in the United States, OPCS-4 is Crown copyright, published by the NHS in England.',
  },
  {
    term: 'FHIR',
    text: 'HL7 and FHIR are registered trademarks of Health Level Seven International.',
  },
] as const
