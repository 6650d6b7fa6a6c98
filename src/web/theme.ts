/**
 * The theme: system fonts, every text at contrast 4.5 or more on its ground, every target 46 px high (gloves).
 * The stock theme has buttons at contrast 3.55 and small targets; the palette and sizes below replace both.
 */
import { type CSSVariablesResolver, createTheme, type MantineColorsTuple } from '@mantine/core';

/** A blue-green dark enough for white text at shade 7 (8.0:1) and light enough for black text at shade 3. */
const petrol: MantineColorsTuple = [
  '#e4f2f3',
  '#c9e4e6',
  '#a9d4d8',
  '#8ecdd3',
  '#5fa9b1',
  '#35858f',
  '#1b6a75',
  '#0b5563',
  '#07444f',
  '#04343d',
];

export const theme = createTheme({
  primaryColor: 'petrol',
  primaryShade: { light: 7, dark: 3 },
  autoContrast: true,
  colors: { petrol },
  fontFamily: "'Segoe UI', 'Helvetica Neue', Arial, 'Liberation Sans', sans-serif",
  headings: { fontFamily: "Charter, 'Bitstream Charter', 'Iowan Old Style', Georgia, 'DejaVu Serif', serif" },
  defaultRadius: 2,
  focusRing: 'always',
  cursorType: 'pointer',
});

export const variables: CSSVariablesResolver = () => ({
  variables: {},
  light: {
    '--mantine-color-body': '#f6f3ea',
    '--mantine-color-text': '#1b2126',
    '--mantine-color-dimmed': '#4c545b',
    '--mantine-color-placeholder': '#5a626a',
    '--mantine-color-error': '#8f1d14',
    '--mantine-color-default-border': '#6f7881',
    '--mantine-color-anchor': '#0b5563',
  },
  dark: {
    '--mantine-color-body': '#14191d',
    '--mantine-color-text': '#ece8dd',
    '--mantine-color-dimmed': '#b4bbc0',
    '--mantine-color-placeholder': '#a3abb1',
    '--mantine-color-error': '#ffb4a8',
    '--mantine-color-default-border': '#87919a',
    '--mantine-color-anchor': '#8ecdd3',
  },
});
