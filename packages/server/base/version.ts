/** Version of the command; a test holds it equal to the package's. */
export const version = "0.1.0";
