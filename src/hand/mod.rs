//! Presses into intents: repeat guard, hold, menu, lit digits. Time comes in as a value; pure.
